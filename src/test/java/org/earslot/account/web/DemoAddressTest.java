package org.earslot.account.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.InetAddress;
import java.net.UnknownHostException;
import org.junit.jupiter.api.Test;
import org.springframework.boot.tomcat.servlet.TomcatServletWebServerFactory;

class DemoAddressTest {

    private final TomcatServletWebServerFactory server = new TomcatServletWebServerFactory();

    @Test
    void is_of_this_machine_whatever_is_set() throws UnknownHostException {
        server.setAddress(InetAddress.getByName("0.0.0.0"));
        new DemoAddress().customize(server);
        assertThat(server.getAddress().isLoopbackAddress()).isTrue();
    }

    @Test
    void is_of_this_machine_where_nothing_is_set() {
        new DemoAddress().customize(server);
        assertThat(server.getAddress().isLoopbackAddress()).isTrue();
    }

    @Test
    void may_be_any_of_this_machines_own() throws UnknownHostException {
        server.setAddress(InetAddress.getByName("127.0.0.2"));
        new DemoAddress().customize(server);
        assertThat(server.getAddress().getHostAddress()).isEqualTo("127.0.0.2");
    }
}
