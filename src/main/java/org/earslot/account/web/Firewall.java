package org.earslot.account.web;

import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.security.web.firewall.HttpFirewall;
import org.springframework.security.web.firewall.StrictHttpFirewall;

/** Refuses a NUL in whatever a form or an address carries, before it can reach a query: PostgreSQL takes none. */
@Configuration
class Firewall {

    @Bean
    HttpFirewall httpFirewall() {
        StrictHttpFirewall strict = new StrictHttpFirewall();
        strict.setAllowedParameterValues(value -> value.indexOf('\0') < 0);
        return strict;
    }
}
