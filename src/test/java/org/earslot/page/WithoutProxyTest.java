package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import org.earslot.Earslot;
import org.earslot.testing.ServerTest;
import org.earslot.testing.Wire;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;

/** Where no proxy is declared, nobody's word about the original request is taken, and others are not let near. */
@ServerTest
@ExtendWith(OutputCaptureExtension.class)
class WithoutProxyTest {

    @LocalServerPort
    private int port;

    @Test
    void headers_of_proxies_change_nothing() throws Exception {
        Wire.Answer answer = Wire.ask(
                port,
                "GET /day",
                "X-Forwarded-Proto: https",
                "X-Forwarded-Host: evil.example",
                "Forwarded: proto=https");
        assertThat(answer.header("Location").orElse(""))
                .startsWith("http://127.0.0.1:" + port + "/")
                .doesNotContain("evil");
        assertThat(answer.header("Strict-Transport-Security")).isEmpty();
        assertThat(answer.header("Set-Cookie").orElse(""))
                .startsWith("earslot=")
                .doesNotContain("Secure");
    }

    @ParameterizedTest
    @ValueSource(strings = {"0.0.0.0", "192.0.2.1", ""})
    void the_program_does_not_start_on_an_address_that_others_reach(String address, CapturedOutput log) {
        SpringApplication application = new SpringApplication(Earslot.class);
        String[] settings = {
            "--server.address=" + address, "--server.port=0", "--spring.datasource.url=jdbc:h2:mem:unprotected"
        };
        assertThat(org.assertj.core.api.Assertions.catchThrowable(() -> application.run(settings)))
                .isNotNull();
        assertThat(log.getAll())
                .contains("APPLICATION FAILED TO START", "EARSLOT_WEB_PROXIES", "EARSLOT_WEB_HOSTS", "EARSLOT_ADDRESS");
    }
}
