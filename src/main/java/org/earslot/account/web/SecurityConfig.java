package org.earslot.account.web;

import java.util.Map;
import java.util.stream.Stream;
import org.earslot.account.KeySignIn;
import org.earslot.account.PasswordSignIn;
import org.earslot.account.SessionRules;
import org.earslot.account.SignInLimits;
import org.earslot.account.SignInStamp.Owes;
import org.earslot.account.SignedInUser;
import org.earslot.page.ContentPolicy;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.boot.web.servlet.FilterRegistrationBean;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpMethod;
import org.springframework.security.authentication.ProviderManager;
import org.springframework.security.config.annotation.method.configuration.EnableMethodSecurity;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configurers.AuthorizeHttpRequestsConfigurer;
import org.springframework.security.config.annotation.web.configurers.HeadersConfigurer;
import org.springframework.security.config.http.SessionCreationPolicy;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.access.intercept.AuthorizationFilter;
import org.springframework.security.web.authentication.logout.HeaderWriterLogoutHandler;
import org.springframework.security.web.context.SecurityContextHolderFilter;
import org.springframework.security.web.csrf.CsrfFilter;
import org.springframework.security.web.header.writers.ClearSiteDataHeaderWriter;
import org.springframework.security.web.header.writers.ClearSiteDataHeaderWriter.Directive;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;
import org.springframework.security.web.savedrequest.RequestCache;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;
import org.springframework.security.web.util.matcher.AndRequestMatcher;
import org.springframework.security.web.util.matcher.NegatedRequestMatcher;
import org.springframework.security.web.util.matcher.OrRequestMatcher;
import org.springframework.security.web.util.matcher.RequestMatcher;
import org.springframework.util.unit.DataSize;

/** Who may ask for what: one chain for programs, one for people, one for the description that both read. */
@Configuration
@EnableMethodSecurity
@EnableConfigurationProperties(SignInLimits.class)
class SecurityConfig {

    static final String SIGN_IN = "/sign-in";
    static final String FIRST_SIGN_IN = "/first-sign-in";
    static final String PASSWORD = "/password";
    static final String SECOND_FACTOR = "/second-factor";

    private static final String SIGN_OUT = "/sign-out";

    private static final String[] OPEN_TO_ALL = {
        SIGN_IN,
        FIRST_SIGN_IN,
        "/error",
        "/actuator/health",
        "/actuator/health/**",
        "/styles/**",
        "/scripts/**",
        "/*.svg",
        "/favicon.ico",
        "/webjars/**"
    };
    private static final String[] LEADS_ONLY = {
        "/accounts/**", "/audit/**", "/import/**", "/setup/**", "/estimator/**", "/plan/**"
    };
    private static final String RECEPTIONIST = "RECEPTIONIST";
    private static final String PRACTITIONER = "PRACTITIONER";
    private static final String LEAD = "LEAD";

    /** Of a size that pages, programs and the description share. It is no filter of its own outside their chains. */
    @Bean
    static BodyLimit bodyLimit(
            @Value("${spring.servlet.multipart.max-request-size}") DataSize largestFile, NotAllowed notAllowed) {
        return new BodyLimit(largestFile, notAllowed);
    }

    @Bean
    static NotAllowed notAllowed(ApplicationEventPublisher events) {
        return new NotAllowed(events);
    }

    @Bean
    static FilterRegistrationBean<BodyLimit> bodyLimitOnlyInTheChains(BodyLimit limit) {
        FilterRegistrationBean<BodyLimit> registration = new FilterRegistrationBean<>(limit);
        registration.setEnabled(false);
        return registration;
    }

    /** The description of the interface, for programs by key and for people who have signed in. */
    @Bean
    @Order(1)
    SecurityFilterChain forTheDescription(HttpSecurity http, KeySignIn keys, BodyLimit limit) throws Exception {
        return http.securityMatcher("/api/v1/openapi.json")
                .authenticationManager(new ProviderManager(keys))
                .authorizeHttpRequests(paths -> paths.anyRequest().authenticated())
                .httpBasic(basic -> basic.realmName("earslot"))
                .requestCache(cache -> cache.disable())
                .addFilterBefore(limit, CsrfFilter.class)
                .headers(SecurityConfig::headers)
                .build();
    }

    /** The interface for programs: every request brings its key, nothing is remembered. */
    @Bean
    @Order(2)
    SecurityFilterChain forPrograms(HttpSecurity http, KeySignIn keys, BodyLimit limit, NotAllowed notAllowed)
            throws Exception {
        return http.securityMatcher("/api/**")
                .authenticationManager(new ProviderManager(keys))
                .authorizeHttpRequests(paths -> paths.requestMatchers(HttpMethod.GET, "/api/**")
                        .hasAuthority(SignedInUser.Program.AUTHORITY)
                        // A question of many words: nothing is changed by it.
                        .requestMatchers(HttpMethod.POST, "/api/v1/estimates")
                        .hasAuthority(SignedInUser.Program.AUTHORITY)
                        .anyRequest()
                        .hasAuthority(SignedInUser.Program.WRITES))
                .httpBasic(basic -> basic.realmName("earslot"))
                .exceptionHandling(refusals -> refusals.accessDeniedHandler(notAllowed))
                .csrf(csrf -> csrf.disable())
                .sessionManagement(session -> session.sessionCreationPolicy(SessionCreationPolicy.STATELESS))
                .requestCache(cache -> cache.disable())
                .addFilterAfter(limit, AuthorizationFilter.class)
                .headers(SecurityConfig::headers)
                .build();
    }

    /** The pages. */
    @Bean
    @Order(3)
    SecurityFilterChain forPeople(
            HttpSecurity http,
            PasswordSignIn passwords,
            SignInLimits limits,
            SessionRules rules,
            BodyLimit limit,
            NotAllowed notAllowed,
            ApplicationEventPublisher events)
            throws Exception {
        RequestCache asked = pagesAskedFor();
        SignInOutcome outcome = new SignInOutcome(limits.session(), rules, asked);
        return http.authenticationManager(new ProviderManager(passwords))
                .authorizeHttpRequests(SecurityConfig::rules)
                .formLogin(
                        form -> form.loginPage(SIGN_IN).successHandler(outcome).failureHandler(outcome))
                .logout(out -> out.logoutUrl(SIGN_OUT)
                        .addLogoutHandler(new SigningOut(events))
                        .addLogoutHandler(new HeaderWriterLogoutHandler(
                                new ClearSiteDataHeaderWriter(Directive.CACHE, Directive.STORAGE)))
                        .logoutSuccessUrl(SIGN_IN + "?out"))
                .exceptionHandling(refusals -> refusals.authenticationEntryPoint(new SignInEntryPoint())
                        .accessDeniedHandler(notAllowed))
                .requestCache(cache -> cache.requestCache(asked))
                .addFilterBefore(limit, CsrfFilter.class)
                .addFilterBefore(new SessionWatch(rules), SecurityContextHolderFilter.class)
                .addFilterAfter(
                        new SecondFactorFirst(Map.of(
                                Owes.CODE,
                                open(SECOND_FACTOR, SIGN_OUT),
                                Owes.SECOND_FACTOR,
                                open(SECOND_FACTOR + "/**", PASSWORD, SIGN_OUT))),
                        AuthorizationFilter.class)
                .addFilterAfter(
                        new PasswordChangeFilter(open(PASSWORD, SECOND_FACTOR, SIGN_OUT)), AuthorizationFilter.class)
                .headers(SecurityConfig::headers)
                .build();
    }

    private static void rules(
            AuthorizeHttpRequestsConfigurer<HttpSecurity>.AuthorizationManagerRequestMatcherRegistry paths) {
        paths.requestMatchers(open())
                .permitAll()
                .requestMatchers("/setup/red-flags/**", "/setup/cautions", "/setup/cautions/sign-off")
                .hasAnyRole(PRACTITIONER, LEAD)
                .requestMatchers(LEADS_ONLY)
                .hasRole(LEAD)
                .requestMatchers("/review/**")
                .hasAnyRole(PRACTITIONER, LEAD)
                .anyRequest()
                .hasAnyRole(RECEPTIONIST, PRACTITIONER, LEAD);
    }

    /** The paths open to all, and these. */
    private static RequestMatcher open(String... more) {
        return new OrRequestMatcher(Stream.concat(Stream.of(OPEN_TO_ALL), Stream.of(more))
                .map(PathPatternRequestMatcher::pathPattern)
                .toArray(RequestMatcher[]::new));
    }

    /** Remembers the page that a visitor asked for until they have signed in; never a part of a page. */
    private static RequestCache pagesAskedFor() {
        HttpSessionRequestCache asked = new HttpSessionRequestCache();
        asked.setMatchingRequestParameterName(null);
        asked.setRequestMatcher(new AndRequestMatcher(
                PathPatternRequestMatcher.pathPattern(HttpMethod.GET, "/**"),
                new NegatedRequestMatcher(open()),
                request -> request.getHeader(SignInEntryPoint.EXCHANGE) == null));
        return asked;
    }

    private static void headers(HeadersConfigurer<HttpSecurity> headers) {
        headers.contentSecurityPolicy(policy -> policy.policyDirectives(ContentPolicy.DIRECTIVES))
                .referrerPolicy(referrer -> referrer.policy(ReferrerPolicy.SAME_ORIGIN))
                .permissionsPolicyHeader(policy -> policy.policy("camera=(), geolocation=(), microphone=()"));
    }
}
