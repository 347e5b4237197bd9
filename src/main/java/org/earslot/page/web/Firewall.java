package org.earslot.page.web;

import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.security.web.firewall.HttpFirewall;
import org.springframework.security.web.firewall.StrictHttpFirewall;

/** Refuses requests before anything of the program sees them. */
@Configuration
class Firewall {

    private static final Logger LOG = LoggerFactory.getLogger(Firewall.class);
    private static final int MOST_LOGGED = 20;

    /**
     * Refuses a NUL in whatever a form or an address carries, before it can reach a query: PostgreSQL takes none. Refuses
     * requests that name another host, too: pages made for one may not act, or lead on, as if they were this program's.
     */
    @Bean
    HttpFirewall httpFirewall(Reachability reachability, @Value("${server.address:}") String address) {
        Set<String> logged = ConcurrentHashMap.newKeySet();
        StrictHttpFirewall strict = new StrictHttpFirewall();
        strict.setAllowedParameterValues(value -> value.indexOf('\0') < 0);
        strict.setAllowedHostnames(host -> {
            boolean allowed = reachability.allows(host) || host.equalsIgnoreCase(address);
            if (!allowed && logged.size() < MOST_LOGGED && logged.add(host)) {
                LOG.warn(
                        "Refused a request for the host {}. If this server is meant, name it in earslot.web.hosts"
                                + " (EARSLOT_WEB_HOSTS).",
                        host.replaceAll("[^\\w.:\\[\\]-]", "?"));
            }
            return allowed;
        });
        return strict;
    }
}
