package org.earslot.page.web;

import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.boot.session.autoconfigure.DefaultCookieSerializerCustomizer;
import org.springframework.boot.web.servlet.FilterRegistrationBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.Ordered;
import org.springframework.core.env.Environment;

/** Fits the server to the way it is reached, and lets it start only if that is safe. */
@Configuration
@EnableConfigurationProperties(Reachability.class)
class ReachabilityConfig {

    private final Reachability reachability;
    private final boolean secure;

    ReachabilityConfig(Reachability reachability, Environment environment) {
        this.reachability = reachability;
        String address = environment.getProperty("server.address", "");
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
}
