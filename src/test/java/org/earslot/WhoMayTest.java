package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.earslot.account.SignedInUser;
import org.earslot.testing.OfferedAddress;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
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
            POST /appointments/{id}/undo-press  practitioner lead
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
            *    /setup/cautions             practitioner lead
            POST /setup/cautions/sign-off    practitioner lead
            *    /setup/**                   lead
            *    /estimator/**               lead
            *    /plan/**                    lead
            *    /                           receptionist practitioner lead
            *    /password/**                receptionist practitioner lead
            *    /second-factor/**           receptionist practitioner lead
            *    /entered                    receptionist practitioner lead
            GET  /day/{date}/week            receptionist practitioner lead
            *    /day/**                     receptionist practitioner lead
            *    /referrals/**               receptionist practitioner lead
            *    /patients/**                receptionist practitioner lead
            *    /kit/**                     receptionist practitioner lead
            *    /slots/**                   receptionist practitioner lead
            *    /appointments/**            receptionist practitioner lead
            *    /estimate/**                receptionist practitioner lead
            """;

    private static final PathPatternParser PATTERNS = new PathPatternParser();
    private static final Pattern WRITTEN_INTO_THE_PAGE =
            Pattern.compile("<script(?![^>]*\\ssrc=)|\\sstyle=\"|<style|\\son[a-z]+=\"|href=\"javascript:");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    private Map<String, RequestPostProcessor> askers;
    private List<OfferedAddress> addresses;

    @BeforeEach
    void every_address_and_every_asker() {
        TestClinics.TestClinic clinic = clinics.open();
        askers = Map.of(
                "receptionist", SignedIn.receptionist(clinic.id()),
                "practitioner", SignedIn.practitioner(clinic.id(), clinic.p1()),
                "lead", SignedIn.lead(clinic.id()),
                "program", SignedIn.program(clinic.id()),
                "reader", SignedIn.as(new SignedInUser.Program(clinic.id(), "reader", false)));
        addresses = OfferedAddress.all(mappings);
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
                    int status = answer(address.bare().with(askers.get(name))).getStatus();
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

    private void check(BiConsumer<OfferedAddress, List<String>> check) {
        List<String> problems = new ArrayList<>();
        addresses.stream()
                .filter(address -> line(address).isPresent())
                .forEach(address -> check.accept(address, problems));
        assertThat(problems).isEmpty();
    }

    private MockHttpServletResponse ask(OfferedAddress address, RequestPostProcessor asker) {
        MockHttpServletRequestBuilder request = address.bare().with(csrf());
        return answer(asker == null ? request : request.with(asker));
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

    private static Set<String> allowed(OfferedAddress address) {
        String[] words = line(address).orElseThrow().split("\\s+");
        return Arrays.stream(words).skip(2).collect(Collectors.toSet());
    }

    private static Optional<String> line(OfferedAddress address) {
        return TABLE.lines().filter(line -> fits(line.split("\\s+"), address)).findFirst();
    }

    private static boolean fits(String[] line, OfferedAddress address) {
        boolean verb = line[0].equals("*") || line[0].equals(address.method().name());
        boolean path = line[1].equals(address.pattern())
                || PATTERNS.parse(line[1])
                        .matches(org.springframework.http.server.PathContainer.parsePath(address.path()));
        return verb && path;
    }
}
