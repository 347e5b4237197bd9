package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * Every form that a page may send, with every field that any page has, filled with what nobody should write: it is
 * refused or taken as text, but nothing breaks, and nothing that was written runs in a page.
 */
@PageTest
class EveryFormTest {

    private static final String SCRIPT = "<script>alert(1)</script>";
    private static final Pattern VARIABLE = Pattern.compile("\\{(?:\\*)?(\\w+)[^/]*}");
    private static final Pattern FIELD =
            Pattern.compile("<(?:input|select|textarea|button)[^>]*?\\sname=\"([\\w.]+)\"");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    private RequestPostProcessor lead;
    private RequestPostProcessor practitioner;
    private Map<String, String> values;

    @BeforeEach
    void a_clinic_with_a_patient() {
        TestClinics.TestClinic clinic = clinics.open();
        lead = SignedIn.lead(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        UUID appointment = fixture.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(9, 0), 30);
        values = Map.of(
                "/referrals",
                referral.id().toString(),
                "/patients",
                referral.patientId().toString(),
                "/appointments",
                appointment.toString(),
                "date",
                DiaryFixture.WEDNESDAY.toString(),
                "month",
                "2026-02",
                "caution",
                "tinnitus",
                "method",
                "microsuction",
                "ear",
                "right");
    }

    static List<String> whatNobodyShouldWrite() {
        return List.of(
                "",
                " ",
                "x",
                "-1",
                "0",
                "99999999999999999999",
                "1e400",
                "NaN",
                "2026-02-30",
                "0000-01-01",
                "99:99",
                UUID.randomUUID().toString(),
                SCRIPT,
                "'; drop table patient; --",
                "x".repeat(10_000),
                "\u0000",
                "\uD800",
                "\u202Eabc \uD83D\uDC42");
    }

    @ParameterizedTest
    @MethodSource("whatNobodyShouldWrite")
    void breaks_nowhere(String written) throws IOException {
        Set<String> fields = fields();
        assertThat(fields).hasSizeGreaterThan(70);
        List<String> problems = new ArrayList<>();
        Set<String> forms = forms();
        assertThat(forms).hasSizeGreaterThan(60);
        for (String form : forms) {
            MockHttpServletRequestBuilder request = post(filled(form)).with(csrf());
            fields.forEach(field -> request.param(field, written));
            for (RequestPostProcessor asker : List.of(lead, practitioner)) {
                problem(request.with(asker)).ifPresent(problem -> problems.add(form + ": " + problem));
            }
        }
        assertThat(problems).isEmpty();
    }

    private Optional<String> problem(MockHttpServletRequestBuilder request) {
        try {
            MockHttpServletResponse answer = mvc.perform(request).andReturn().getResponse();
            if (answer.getStatus() >= 500) {
                return Optional.of("answered with " + answer.getStatus());
            }
            return answer.getContentAsString(StandardCharsets.UTF_8).contains(SCRIPT)
                    ? Optional.of("the script stands in the page")
                    : Optional.empty();
        } catch (Exception e) {
            Throwable cause = e.getCause() == null ? e : e.getCause();
            return Optional.of(cause.getClass().getSimpleName() + " " + cause.getStackTrace()[0]);
        }
    }

    /** Addresses that take a form, but those of programs. */
    private Set<String> forms() {
        Set<String> forms = new TreeSet<>();
        for (RequestMappingInfoHandlerMapping mapping : mappings) {
            for (RequestMappingInfo offered : mapping.getHandlerMethods().keySet()) {
                if (offered.getMethodsCondition().getMethods().contains(RequestMethod.POST)) {
                    offered.getPatternValues().stream()
                            .filter(pattern -> !pattern.startsWith("/api/"))
                            .forEach(forms::add);
                }
            }
        }
        return forms;
    }

    private String filled(String form) {
        String room = values.getOrDefault(
                form.replaceFirst("(^/\\w+).*", "$1"), UUID.randomUUID().toString());
        return VARIABLE.matcher(form.replace("/**", "")).replaceAll(found -> {
            String name = found.group(1);
            return name.equals("id")
                    ? room
                    : values.getOrDefault(name, UUID.randomUUID().toString());
        });
    }

    /** The names of all fields of all pages. */
    static Set<String> fields() throws IOException {
        Set<String> fields = new TreeSet<>();
        for (Resource page : new PathMatchingResourcePatternResolver().getResources("classpath:/templates/**/*.html")) {
            Matcher field = FIELD.matcher(page.getContentAsString(StandardCharsets.UTF_8));
            while (field.find()) {
                fields.add(field.group(1));
            }
        }
        return fields;
    }
}
