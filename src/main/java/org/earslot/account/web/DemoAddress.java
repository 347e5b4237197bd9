package org.earslot.account.web;

import java.net.InetAddress;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.web.server.AbstractConfigurableWebServerFactory;
import org.springframework.boot.web.server.WebServerFactoryCustomizer;
import org.springframework.context.annotation.Profile;
import org.springframework.core.Ordered;
import org.springframework.stereotype.Component;

/** Binds demo mode to this machine alone, whatever address is set: its sign-in page shows passwords. */
@Component
@Profile("demo")
class DemoAddress implements WebServerFactoryCustomizer<AbstractConfigurableWebServerFactory>, Ordered {

    private static final Logger LOG = LoggerFactory.getLogger(DemoAddress.class);

    @Override
    public int getOrder() {
        return LOWEST_PRECEDENCE;
    }

    @Override
    public void customize(AbstractConfigurableWebServerFactory server) {
        InetAddress set = server.getAddress();
        if (set == null || !set.isLoopbackAddress()) {
            LOG.warn("Demo mode listens on this machine only; the address that is set does not count");
            server.setAddress(InetAddress.getLoopbackAddress());
        }
    }
}
