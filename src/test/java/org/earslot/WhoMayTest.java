package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.request;

import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.account.Asker;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.MethodParameter;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;
import org.springframework.web.util.pattern.PathPatternParser;

/**
 * Who may ask for what, for every address that the application answers. An address that no line of the table covers
 * fails the test: whoever adds one says here who may use it. The first line that fits counts.
 */
@PageTest
class WhoMayTest {

    private static final String TABLE = """
            *    /sign-in                    anyone
            *    /first-sign-in              anyone
            *    /error                      anyone
            GET  /actuator/health/**         anyone
            GET  /api/v1/openapi.json        receptionist practitioner lead program reader
            GET  /api/**                     program reader
            POST /api/v1/estimates           program reader
            *    /api/**                     program
            POST /referrals/{id}/override/** practitioner
            POST /referrals/{id}/red-flag/not-reached receptionist practitioner lead
            POST /referrals/{id}/red-flag/see-here practitioner lead
            POST /patients/{id}/cautions/{caution}/correct practitioner lead
            POST /patients/{id}/cautions/clarify practitioner lead
            POST /referrals/{id}/red-flag/sent-on practitioner lead
            POST /referrals/{id}/red-flag/cleared practitioner lead
            POST /appointments/{id}/step-out    practitioner lead
            POST /appointments/{id}/call-in-again practitioner lead
            POST /appointments/{id}/call-in     practitioner lead
            POST /appointments/{id}/finish      practitioner lead
            POST /appointments/{id}/room-ready  practitioner lead
            POST /appointments/{id}/times       practitioner lead
            POST /appointments/{id}/findings/** practitioner lead
            POST /appointments/{id}/checks/{check} practitioner lead
            POST /appointments/{id}/next-step   practitioner lead
            POST /appointments/{id}/referred-on practitioner lead
            POST /appointments/{id}/complication practitioner lead
            POST /day/{date}/close           practitioner lead
            POST /day/{date}/reopen          lead
            *    /review/{month}/owner       lead
            POST /review/{month}/close       lead
            *    /review/{month}/change/**   lead
            *    /review/**                  practitioner lead
            *    /accounts/**                lead
            *    /audit/**                   lead
            *    /import/**                  lead
            POST /setup/red-flags            lead
            *    /setup/red-flags/**         practitioner lead
            *    /setup/**                   lead
            *    /estimator/**               lead
            *    /plan/**                    lead
            *    /                           receptionist practitioner lead
            *    /password/**                receptionist practitioner lead
            *    /second-factor/**           receptionist practitioner lead
            *    /entered                    receptionist practitioner lead
            *    /day/**                     receptionist practitioner lead
            *    /referrals/**               receptionist practitioner lead
            *    /patients/**                receptionist practitioner lead
            *    /kit/**                     receptionist practitioner lead
            *    /slots/**                   receptionist practitioner lead
            *    /appointments/**            receptionist practitioner lead
            *    /estimate/**                receptionist practitioner lead
            """;

    private static final PathPatternParser PATTERNS = new PathPatternParser();
    private static final Pattern VARIABLE = Pattern.compile("\\{(?:\\*)?(\\w+)[^/]*}");
    private static final Pattern WRITTEN_INTO_THE_PAGE =
            Pattern.compile("<script(?![^>]*\\ssrc=)|\\sstyle=\"|<style|\\son[a-z]+=\"|href=\"javascript:");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    private Map<String, RequestPostProcessor> askers;
    private List<Address> addresses;

    /** One address as it is offered, with a plausible value in place of each variable. */
    private record Address(HttpMethod method, String pattern, String path, String consumes) {

        boolean forPrograms() {
            return pattern.startsWith("/api/");
        }

        @Override
        public String toString() {
            return method + " " + pattern;
        }
    }

    @BeforeEach
    void every_address_and_every_asker() {
        TestClinics.TestClinic clinic = clinics.open();
        askers = Map.of(
                "receptionist", SignedIn.receptionist(clinic.id()),
                "practitioner", SignedIn.practitioner(clinic.id(), clinic.p1()),
                "lead", SignedIn.lead(clinic.id()),
                "program", SignedIn.program(clinic.id()),
                "reader", SignedIn.as(new Asker.Program(clinic.id(), "reader", false)));
        addresses = new ArrayList<>();
        mappings.forEach(mapping -> mapping.getHandlerMethods().forEach(this::add));
        assertThat(addresses).hasSizeGreaterThan(20);
    }

    @Test
    void covers_every_address() {
        assertThat(addresses.stream().filter(address -> line(address).isEmpty()))
                .as("add a line to the table for")
                .isEmpty();
    }

    @Test
    void sends_visitors_to_the_sign_in_and_programs_without_a_key_away() {
        check((address, problems) -> {
            MockHttpServletResponse answer = ask(address, null);
            boolean sentAway = address.forPrograms()
                    ? answer.getStatus() == 401
                    : answer.getStatus() == 302
                            && String.valueOf(answer.getRedirectedUrl()).startsWith("/sign-in");
            if (!allowed(address).contains("anyone") && !sentAway) {
                problems.add(address + " answers a visitor with " + answer.getStatus());
            }
        });
    }

    @Test
    void refuses_whoever_is_not_named_and_fails_nobody_else() {
        check((address, problems) -> {
            Set<String> allowed = allowed(address);
            if (allowed.contains("anyone")) {
                return;
            }
            askers.forEach((name, asker) -> {
                int status = ask(address, asker).getStatus();
                boolean refused = status == 401 || status == 403;
                if (refused == allowed.contains(name) || status >= 500) {
                    problems.add(address + " answers a " + name + " with " + status);
                }
            });
        });
    }

    @Test
    void takes_no_change_without_the_token_of_a_page() {
        check((address, problems) -> {
            if (address.method() != HttpMethod.GET
                    && !address.forPrograms()
                    && !address.pattern().equals("/error")) {
                for (String name : List.of("receptionist", "practitioner", "lead")) {
                    int status = answer(bare(address).with(askers.get(name))).getStatus();
                    if (status != 403) {
                        problems.add(address + " without a token is answered to a " + name + " with " + status);
                    }
                }
            }
        });
    }

    @Test
    void keeps_pages_out_of_caches_and_scripts_out_of_pages() {
        check((address, problems) -> {
            if (address.method() != HttpMethod.GET) {
                return;
            }
            RequestPostProcessor asker = askers.get(address.forPrograms() ? "program" : "lead");
            MockHttpServletResponse answer = ask(address, asker);
            if (!String.valueOf(answer.getHeader("Cache-Control")).contains("no-store")
                    || !String.valueOf(answer.getHeader("Content-Security-Policy"))
                            .startsWith("default-src 'self'")) {
                problems.add(address + " lacks a header");
            }
            Matcher written = WRITTEN_INTO_THE_PAGE.matcher(text(answer));
            if (String.valueOf(answer.getContentType()).startsWith("text/html") && written.find()) {
                problems.add(address + " holds " + written.group());
            }
        });
    }

    private void check(BiConsumer<Address, List<String>> check) {
        List<String> problems = new ArrayList<>();
        addresses.stream()
                .filter(address -> line(address).isPresent())
                .forEach(address -> check.accept(address, problems));
        assertThat(problems).isEmpty();
    }

    private MockHttpServletResponse ask(Address address, RequestPostProcessor asker) {
        MockHttpServletRequestBuilder request = bare(address).with(csrf());
        return answer(asker == null ? request : request.with(asker));
    }

    private static MockHttpServletRequestBuilder bare(Address address) {
        MockHttpServletRequestBuilder request =
                request(address.method(), address.path()).contentType(address.consumes());
        return address.consumes().equals(MediaType.APPLICATION_JSON_VALUE) ? request.content("{}") : request;
    }

    private MockHttpServletResponse answer(MockHttpServletRequestBuilder request) {
        try {
            return mvc.perform(request).andReturn().getResponse();
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }

    private static String text(MockHttpServletResponse answer) {
        try {
            return answer.getContentAsString();
        } catch (java.io.UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }

    private void add(RequestMappingInfo offered, HandlerMethod method) {
        Set<RequestMethod> verbs = offered.getMethodsCondition().getMethods();
        for (String pattern : offered.getPatternValues()) {
            for (RequestMethod verb : verbs.isEmpty() ? Set.of(RequestMethod.GET) : verbs) {
                addresses.add(
                        new Address(verb.asHttpMethod(), pattern, filled(pattern, method), consumes(offered, pattern)));
            }
        }
    }

    private static String consumes(RequestMappingInfo offered, String pattern) {
        return offered.getConsumesCondition().getConsumableMediaTypes().stream()
                .findFirst()
                .map(MediaType::toString)
                .orElse(
                        pattern.startsWith("/api/")
                                ? MediaType.APPLICATION_JSON_VALUE
                                : MediaType.APPLICATION_FORM_URLENCODED_VALUE);
    }

    private static String filled(String pattern, HandlerMethod method) {
        return VARIABLE.matcher(pattern.replace("/**", "")).replaceAll(found -> plausible(found.group(1), method));
    }

    private static String plausible(String variable, HandlerMethod method) {
        Class<?> type = Arrays.stream(method.getMethodParameters())
                .filter(parameter -> parameter.hasParameterAnnotation(PathVariable.class))
                .filter(parameter -> variable.equals(name(parameter)))
                .findFirst()
                .<Class<?>>map(MethodParameter::getParameterType)
                .orElse(String.class);
        if (type == LocalDate.class || variable.equals("date")) {
            return "2026-03-03";
        } else if (type == YearMonth.class || variable.equals("month")) {
            return "2026-03";
        }
        return type == UUID.class || variable.equals("id") ? UUID.randomUUID().toString() : "x";
    }

    private static String name(MethodParameter parameter) {
        parameter.initParameterNameDiscovery(new org.springframework.core.DefaultParameterNameDiscoverer());
        return Stream.of(parameter.getParameterAnnotation(PathVariable.class).value(), parameter.getParameterName())
                .filter(name -> name != null && !name.isEmpty())
                .findFirst()
                .orElse("");
    }

    private static Set<String> allowed(Address address) {
        String[] words = line(address).orElseThrow().split("\\s+");
        return Arrays.stream(words).skip(2).collect(Collectors.toSet());
    }

    private static Optional<String> line(Address address) {
        return TABLE.lines().filter(line -> fits(line.split("\\s+"), address)).findFirst();
    }

    private static boolean fits(String[] line, Address address) {
        boolean verb = line[0].equals("*") || line[0].equals(address.method().name());
        boolean path = line[1].equals(address.pattern())
                || PATTERNS.parse(line[1])
                        .matches(org.springframework.http.server.PathContainer.parsePath(address.path()));
        return verb && path;
    }
}
