package org.earslot.page.web;

import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.boot.session.autoconfigure.DefaultCookieSerializerCustomizer;
import org.springframework.boot.web.servlet.FilterRegistrationBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.Ordered;
import org.springframework.core.env.Environment;
import org.springframework.security.web.firewall.StrictHttpFirewall;

/** Says to the parts of the server by which names and through whom it is reached, and lets it start only where that is safe. */
@Configuration
@EnableConfigurationProperties(Reachability.class)
class ReachabilityConfig {

    private static final Logger LOG = LoggerFactory.getLogger(ReachabilityConfig.class);
    private static final int MOST_NAMED = 20;

    private final Reachability reachability;
    private final String address;
    private final boolean secure;

    ReachabilityConfig(Reachability reachability, Environment environment) {
        this.reachability = reachability;
        address = environment.getProperty("server.address", "");
        boolean ownTls = environment.getProperty("server.ssl.enabled", Boolean.class, true)
                && (environment.containsProperty("server.ssl.key-store")
                        || environment.containsProperty("server.ssl.certificate")
                        || environment.containsProperty("server.ssl.bundle"));
        secure = ownTls || reachability.isBehindProxy();
        boolean thisMachineAlone = !address.isBlank() && Reachability.isLoopback(address);
        if (!secure && !thisMachineAlone) {
            throw new UnprotectedAddress(address);
        }
    }

    /** Before all filters but the one that catches failures, so that each of them sees the request as the browser sent it. */
    @Bean
    FilterRegistrationBean<OriginalRequest> originalRequest() {
        FilterRegistrationBean<OriginalRequest> registration =
                new FilterRegistrationBean<>(new OriginalRequest(reachability));
        registration.setOrder(Ordered.HIGHEST_PRECEDENCE + 20);
        return registration;
    }

    /** A cookie with this prefix is taken by browsers only over TLS and from this very host. */
    @Bean
    DefaultCookieSerializerCustomizer sessionCookie() {
        return cookie -> {
            if (secure) {
                cookie.setCookieName("__Host-earslot");
                cookie.setCookiePath("/");
                cookie.setUseSecureCookie(true);
            }
        };
    }

    /** Refuses requests that name another host: pages made for one may not act, or lead on, as if they were this program's. */
    @Bean
    StrictHttpFirewall firewall() {
        Set<String> named = ConcurrentHashMap.newKeySet();
        StrictHttpFirewall firewall = new StrictHttpFirewall();
        firewall.setAllowedHostnames(host -> {
            boolean allowed = reachability.allows(host) || host.equalsIgnoreCase(address);
            if (!allowed && named.size() < MOST_NAMED && named.add(host)) {
                LOG.warn(
                        "Refused a request for the host {}. If this server is meant, name it in earslot.web.hosts"
                                + " (EARSLOT_WEB_HOSTS).",
                        host.replaceAll("[^\\w.:\\[\\]-]", "?"));
            }
            return allowed;
        });
        return firewall;
    }
}
