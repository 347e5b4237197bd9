package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.request;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Pattern;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.exchange.imports.ApiImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * The trail answers who saw a patient: every address of the application is asked, and wherever the answer holds the name
 * or the local number of a patient who was planted in the clinic, the request has left a line linked to that patient.
 */
@PageTest
class WhoSawWhomTest {

    private static final String FAMILY = "Zwickelbart";
    private static final Pattern VARIABLE = Pattern.compile("\\{(?:\\*)?(\\w+)[^/]*}");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private ApiImport imports;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private SettableClock clock;

    private TestClinics.TestClinic clinic;
    private Patient patient;
    private Referral waiting;
    private UUID appointment;
    private Map<String, String> values;
    private Map<String, String> asked;

    @BeforeEach
    void a_clinic_with_a_planted_patient() {
        clinic = clinics.open();
        patient = fixture.patient(clinic, FAMILY, "Amalthea");
        Patient alike = fixture.patient(clinic, FAMILY, "Amalthea");
        waiting = fixture.referral(
                clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        Referral booked = fixture.referral(
                clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        LocalDate today = DiaryFixture.WEDNESDAY.minusDays(1);
        appointment = fixture.appointment(clinic, booked, fixture.place(clinic, today.atTime(LocalTime.of(10, 0)), 30));
        values = Map.of(
                "/referrals", waiting.id().toString(),
                "/api/v1/referrals", waiting.id().toString(),
                "/patients", patient.id().toString(),
                "/audit", patient.id().toString(),
                "/appointments", appointment.toString(),
                "/api/v1/appointments", appointment.toString(),
                "/slots", waiting.id().toString(),
                "date", today.toString(),
                "month", "2026-02",
                "ear", "right");
        asked = Map.ofEntries(
                Map.entry("sought", FAMILY),
                Map.entry("referral", waiting.id().toString()),
                Map.entry("patient", patient.id().toString()),
                Map.entry("with", alike.id().toString()),
                Map.entry("date", today.toString()),
                Map.entry("on", today.toString()),
                Map.entry("absent", clinic.p1().toString()),
                Map.entry("cover", clinic.p2().toString()),
                Map.entry("practitioner", clinic.p1().toString()),
                Map.entry("fix", "move"),
                Map.entry("method", "microsuction"),
                Map.entry("ears", "both"),
                Map.entry("status", "ready_to_book"),
                Map.entry("kind", "patient"));
    }

    @Test
    void wherever_a_patient_is_shown() {
        Set<String> shown = new TreeSet<>();
        List<String> unrecorded = new ArrayList<>();
        // Reading first: what is changed then shows less.
        List<Address> all = addresses().stream()
                .sorted(Comparator.comparing((Address address) -> address.method() != HttpMethod.GET)
                        .thenComparing(Address::pattern))
                .toList();
        for (Address address : all) {
            for (RequestPostProcessor asker : askers(address)) {
                long before = lines();
                String answer = answer(address, asker);
                if (answer.contains(FAMILY) || answer.contains(patient.localNumber())) {
                    shown.add(address.toString());
                    if (lines() == before) {
                        unrecorded.add(address.toString());
                    }
                }
            }
        }
        assertThat(unrecorded).isEmpty();
        assertThat(shown)
                .hasSizeGreaterThan(20)
                .contains(
                        "GET /api/v1/bookings",
                        "GET /api/v1/days/{date}",
                        "GET /api/v1/referrals/{id}",
                        "GET /appointments/{id}",
                        "GET /audit/patients/{id}",
                        "GET /day/{date}",
                        "GET /day/{date}/now",
                        "GET /day/{date}/sheet",
                        "GET /import/bookings.csv",
                        "GET /patients/{id}",
                        "GET /referrals",
                        "GET /referrals/{id}",
                        "GET /referrals/{id}/edit",
                        "GET /slots",
                        "POST /referrals/{id}");
    }

    @Test
    void an_open_screen_leaves_a_few_lines_an_hour_and_not_one_each_minute() {
        RequestPostProcessor desk = SignedIn.receptionist(clinic.id());
        List<String> screens = List.of(
                "/day/" + values.get("date"),
                "/day/" + values.get("date") + "/sheet",
                "/day/" + values.get("date") + "/now");
        long before = allLines();
        for (int minute = 0; minute < 60; minute++) {
            for (String screen : screens) {
                perform(get(screen).header("HX-Request", "true").with(desk));
            }
            clock.advance(Duration.ofMinutes(1));
        }
        assertThat(allLines() - before).as("three screens, open for an hour").isBetween(3L, 6L);
    }

    @Test
    void a_list_is_one_line_however_many_it_shows() {
        fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        long before = allLines();
        perform(get("/referrals").with(SignedIn.receptionist(clinic.id())));
        assertThat(allLines() - before).isEqualTo(1);
    }

    @Test
    void an_import_names_how_many_patients_and_is_linked_to_each() throws IOException {
        String file = "booking_id,patient_ref,date,start,slot_minutes,practitioner,room,method_planned,ears,status\n"
                + "B1," + patient.localNumber() + ",2026-03-06,09:00,30,P1,R1,microsuction,both,booked\n"
                + "B2,Z1,2026-03-06,10:00,30,P1,R1,microsuction,both,booked\n";
        long before = lines();
        ImportRun run = imports.take(
                new ImportTerms(clinic.id(), "desk", ImportKind.BOOKINGS, false, false, false),
                new ByteArrayInputStream(file.getBytes(StandardCharsets.UTF_8)));
        assertThat(run.accepted()).isEqualTo(2);
        assertThat(lines()).isGreaterThan(before);
        assertThat(jdbc.sql("select who || ': ' || detail from audit_entry"
                                + " where clinic_id = ? and action = 'import-took-in'")
                        .param(clinic.id().value())
                        .query(String.class)
                        .single())
                .isEqualTo("desk: 2 lines, 2 patients on record");
    }

    @Test
    void a_change_is_linked_to_its_patient() {
        long before = lines();
        perform(post("/appointments/" + appointment + "/check-in")
                .with(csrf())
                .with(SignedIn.receptionist(clinic.id())));
        perform(post("/referrals/" + waiting.id() + "/waiting").with(csrf()).with(SignedIn.receptionist(clinic.id())));
        assertThat(lines() - before).isGreaterThanOrEqualTo(2);
    }

    @Test
    void another_clinic_sees_nothing_and_is_answered_as_if_there_were_no_such_record() {
        TestClinics.TestClinic other = clinics.open();
        Map<String, String> ids = new TreeMap<>(asked);
        // What is typed comes back with the form.
        ids.remove("sought");
        List<String> problems = new ArrayList<>();
        int found = 0;
        for (Address address : addresses()) {
            boolean programs = address.pattern().startsWith("/api/");
            for (RequestPostProcessor asker : programs
                    ? List.of(SignedIn.program(other.id()))
                    : List.of(
                            SignedIn.receptionist(other.id()),
                            SignedIn.practitioner(other.id(), other.p1()),
                            SignedIn.lead(other.id()))) {
                MockHttpServletResponse answer = response(address, asker, ids);
                String text = text(answer);
                if (text.contains(FAMILY) || text.contains(patient.localNumber())) {
                    problems.add(address + " shows it");
                }
                boolean known = address.pattern().contains("{id}") && values.containsKey(room(address.pattern()));
                // As an id that nobody has: mostly 404, and 400 or 403 where the request is not looked at further.
                int nobodys = response(
                                new Address(
                                        address.method(),
                                        address.pattern()
                                                .replace(
                                                        "{id}",
                                                        UUID.randomUUID().toString())),
                                asker,
                                ids)
                        .getStatus();
                if (known && (answer.getStatus() != nobodys || nobodys < 400)) {
                    problems.add(address + " answers " + answer.getStatus() + ", and " + nobodys + " to nobody's id");
                }
                found += known && nobodys == 404 ? 1 : 0;
            }
        }
        assertThat(problems).isEmpty();
        assertThat(found).isGreaterThan(100);
    }

    private record Address(HttpMethod method, String pattern) {
        @Override
        public String toString() {
            return method + " " + pattern;
        }
    }

    private Set<Address> addresses() {
        Set<Address> found = new java.util.HashSet<>();
        for (RequestMappingInfoHandlerMapping mapping : mappings) {
            for (RequestMappingInfo offered : mapping.getHandlerMethods().keySet()) {
                for (String pattern : offered.getPatternValues()) {
                    for (RequestMethod verb : offered.getMethodsCondition().getMethods()) {
                        found.add(new Address(verb.asHttpMethod(), pattern));
                    }
                }
            }
        }
        found.removeIf(address -> address.pattern().endsWith("/changes"));
        return found;
    }

    private List<RequestPostProcessor> askers(Address address) {
        return address.pattern().startsWith("/api/")
                ? List.of(SignedIn.program(clinic.id()))
                : List.of(SignedIn.practitioner(clinic.id(), clinic.p1()), SignedIn.lead(clinic.id()));
    }

    private String answer(Address address, RequestPostProcessor asker) {
        return text(response(address, asker, asked));
    }

    private MockHttpServletResponse response(
            Address address, RequestPostProcessor asker, Map<String, String> parameters) {
        MockHttpServletRequestBuilder request = request(address.method(), filled(address.pattern()))
                .with(csrf())
                .with(asker);
        if (address.pattern().startsWith("/api/") && address.method() != HttpMethod.GET) {
            request.contentType(MediaType.APPLICATION_JSON).content("{}");
        } else {
            parameters.forEach(request::param);
        }
        return send(request);
    }

    private void perform(MockHttpServletRequestBuilder request) {
        send(request);
    }

    private MockHttpServletResponse send(MockHttpServletRequestBuilder request) {
        try {
            return mvc.perform(request).andReturn().getResponse();
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }

    private static String text(MockHttpServletResponse answer) {
        try {
            return answer.getContentAsString(StandardCharsets.UTF_8);
        } catch (java.io.UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }

    private String filled(String pattern) {
        String room = values.getOrDefault(room(pattern), UUID.randomUUID().toString());
        return VARIABLE.matcher(pattern.replace("/**", "")).replaceAll(found -> {
            String name = found.group(1);
            return name.equals("id")
                    ? room
                    : values.getOrDefault(name, UUID.randomUUID().toString());
        });
    }

    private static String room(String pattern) {
        return pattern.replaceFirst("^(/api/v1/\\w+|/\\w+).*", "$1");
    }

    /** Lines linked to the patient. */
    private long lines() {
        return jdbc.sql("select count(*) from audit_patient where patient_id = ?")
                .param(patient.id())
                .query(Long.class)
                .single();
    }

    private long allLines() {
        return jdbc.sql("select count(*) from audit_entry where clinic_id = ?")
                .param(clinic.id().value())
                .query(Long.class)
                .single();
    }
}
