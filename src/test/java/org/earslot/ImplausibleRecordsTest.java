package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.testing.EveryAddress;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * A clinic with records that cannot be true, as an import, an older release or a wrong clock may leave them: every page
 * of every role and every answer to a program can still be read, and has the other visits on it.
 */
@PageTest
class ImplausibleRecordsTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    /** What is planted into one appointment of the day each. */
    private static final List<String> IN_APPOINTMENTS = List.of(
            "status = 'fulfilled', called_in_at = '2026-03-03 17:30:00+00'",
            "status = 'fulfilled', called_in_at = '2026-03-03 17:30:00+00', finished_at = '2026-03-03 17:50:00+00'",
            "status = 'fulfilled', called_in_at = '2026-03-03 10:30:00+00', finished_at = '2026-03-03 23:50:00+00'",
            "status = 'arrived', arrived_at = '2026-03-02 09:00:00+00'",
            "status = 'checked-in', arrived_at = '2026-03-03 16:00:00+00'",
            "status = 'fulfilled', arrived_at = '2026-03-03 10:40:00+00', called_in_at = '2026-03-03 10:00:00+00'",
            "status = 'fulfilled'",
            "status = 'fulfilled', finished_at = '2026-03-03 10:00:00+00'",
            "status = 'fulfilled', called_in_at = '2026-03-03 10:00:00+00', finished_at = '2026-03-03 10:30:00+00',"
                    + " room_ready_at = '2026-03-03 10:10:00+00'",
            "status = 'fulfilled', called_in_at = '2026-03-03 10:00:00+00',"
                    + " stepped_out_at = '2026-03-03 09:50:00+00', called_in_again_at = '2026-03-03 09:40:00+00'",
            "status = 'fulfilled', called_in_at = '2026-03-02 10:00:00+00', finished_at = '2026-03-03 10:10:00+00'",
            "called_in_at = '2026-03-03 10:00:00+00'",
            "status = 'fulfilled', room_ready_at = '2026-03-03 10:10:00+00'",
            "status = 'fulfilled', stepped_out_at = '2026-03-03 10:10:00+00'");

    /** What is planted that says nothing of times. */
    private static final List<String> OTHERWISE = List.of(
            "estimate = '{\"version\":'",
            "estimate = '{}'",
            "estimate = '{\"version\":\"1\",\"slotMinutes\":0,\"mean\":-1,\"sd\":-1,\"completion\":{},\"inRoom\":{\"0.5\":-3},\"sharedSdLog\":-1}'",
            "turn = '2025-01-01 10:00:00+00'",
            "status = 'arrived'",
            "status = 'noshow', attendance = 'attended'",
            "told_at = '2026-03-03 10:00:00+00'",
            "ends_at = '2026-03-05 10:00:00+00'",
            "slot_minutes = 180",
            "fit_in = true, holds_place = false",
            "estimate_version = 'no such version'",
            "suited_right = 'suitable'");

    private static final List<String> IN_VISITS = List.of(
            "called_in = null",
            "finished = null",
            "called_in = null, finished = null, arrived = null, booked_start = null",
            "room_ready = '2026-02-10 09:00:00+00'",
            "arrived = '2026-02-10 18:00:00+00'",
            "arrived = '2026-01-01 18:00:00+00'",
            "booked_start = '2025-01-01 18:00:00+00'",
            "outside_minutes = 180",
            "estimated_quantiles = '{'",
            "estimated_quantiles = '{}'",
            "right_wax_found = 'no_such_code', left_canal_found = '', right_depth_found = 'x', left_occlusion_found = 'x'",
            "right_outcome = 'no_such_code', left_adverse_events = 'no_such_code;bleed'",
            "right_methods = 'no_such_method;microsuction'",
            "right_wax_reported = 'no_such_code', left_depth_reported = 'x'",
            "cautions = 'no_such_caution;tinnitus'",
            "finished = '2026-02-12 09:10:00+00', room_ready = null",
            "visit_date = '2031-01-01'",
            "visit_date = '1990-01-01'",
            "softener_days = -5",
            "slot_minutes = 480",
            "attendance = 'did_not_attend'",
            "attendance = null",
            "right_cautions_found = 'no_such_caution;perforation', left_cautions_found = ''",
            "cautions = ''",
            "patient_ref = ''",
            "fit_in = true, arrived = null");

    private static final List<String> IN_REFERRALS = List.of(
            "right_wax = 'no_such_code'",
            "left_depth = 'no_such_code', right_canal = ''",
            "red_flag = 'no_such_flag', red_flags_yes = 'no_such_flag', red_flags_no = 'no_such_flag;sudden_loss'",
            "cautions_not_known = 'no_such_caution'",
            "red_flags_yes = 'no_such_flag', status = 'ready_to_book'",
            "red_flags_not_known = 'no_such_flag'",
            "received_on = '2035-01-01'",
            "not_before = '1900-01-01', must_follow_by = '1900-01-01'",
            "status = 'booked'",
            "softener_days = 365");

    /** What is planted into the caution of a referral, and into one on record of its patient. */
    private static final List<String> IN_CAUTIONS = List.of(
            "caution = 'no_such_caution'",
            "caution = ''",
            "caution = '<b>no such caution</b>', ear = 'right'",
            "method = 'no_such_method', since = '2090-01-01'");

    private static final List<String> IN_PATIENTS = List.of(
            "family_name = null, given_name = null, date_of_birth = null",
            "date_of_birth = '2090-01-01'",
            "date_of_birth = '1800-01-01', contact = ''");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private RunningDay running;

    @Autowired
    private JdbcTemplate jdbc;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private final Map<String, Set<String>> ids = new TreeMap<>();
    private final List<String> sound = List.of("Soundly", "Soundford");

    @BeforeEach
    void a_clinic_with_implausible_records() {
        ids.clear();
        clinic = clinics.open();
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        UUID seen = booked(fixture.patient(clinic, sound.get(0), "Ada"), DAY.atTime(9, 0), false);
        booked(fixture.patient(clinic, sound.get(1), "Ben"), DAY.atTime(15, 0), true);
        List<UUID> appointments = new ArrayList<>();
        for (int i = 0; i < IN_APPOINTMENTS.size() + OTHERWISE.size(); i++) {
            LocalDateTime start = DAY.atTime(9, 30).plusMinutes(i % 14 * 15L + (i % 14 > 13 ? 30 : 0));
            appointments.add(booked(fixture.patient(clinic, "Strange" + i, "Cy"), start, i >= 14));
        }
        clock.set(Instant.parse("2026-03-03T09:01:00Z"));
        running.record(clinic.id(), seen, ClockEvent.CALLED_IN);
        clock.set(Instant.parse("2026-03-03T09:20:00Z"));
        running.record(clinic.id(), seen, ClockEvent.FINISHED);
        clock.set(Instant.parse("2026-03-03T11:00:00Z"));
        plantPast(seen);
        List<String> all = new ArrayList<>(IN_APPOINTMENTS);
        all.addAll(OTHERWISE);
        for (int i = 0; i < all.size(); i++) {
            plant("appointment", all.get(i), appointments.get(i));
        }
        for (String planted : IN_REFERRALS) {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            plant("referral", planted, referral.id());
            add("/referrals", referral.id());
        }
        LocalDateTime next = DAY.plusDays(1).atTime(9, 0);
        for (String planted : IN_CAUTIONS) {
            Patient patient = fixture.patient(clinic, "Unclear", "Di");
            UUID appointment = booked(patient, next, false);
            plantCautions(patient, appointment, planted);
            next = next.plusMinutes(15);
        }
        for (String planted : IN_PATIENTS) {
            Referral referral = fixture.referral(clinic, Method.IRRIGATION, Ears.RIGHT);
            plant("patient", planted, referral.patientId());
            add("/referrals", referral.id());
            add("/patients", referral.patientId());
        }
        add("date", DAY);
        add("date", DAY.plusDays(1));
        add("date", LocalDate.of(2026, 2, 10));
        add("month", "2026-02");
        add("month", "2026-03");
        add("caution", "tinnitus");
        add("method", "microsuction");
        add("ear", "right");
        add("flag", "sudden_loss");
        List.of("patient", "referrer").forEach(kind -> add("kind", kind));
    }

    @Test
    void take_no_page_away() {
        List<String> problems = new ArrayList<>();
        Set<String> addresses = addresses();
        assertThat(addresses).hasSizeGreaterThan(150);
        for (String address : addresses) {
            if (address.startsWith("/api/")) {
                ask(address, "program", SignedIn.program(clinic.id()), problems);
            } else {
                ask(address, "lead", SignedIn.lead(clinic.id()), problems);
            }
        }
        // The same pages as the others see them, once each.
        ids.replaceAll((variable, values) -> Set.of(values.iterator().next()));
        ids.put("date", Set.of(DAY.toString()));
        for (String address : addresses()) {
            ask(address, "practitioner", SignedIn.practitioner(clinic.id(), clinic.p1()), problems);
            ask(address, "receptionist", SignedIn.receptionist(clinic.id()), problems);
        }
        assertThat(problems).isEmpty();
    }

    @Test
    void stand_on_their_line_beside_the_others() throws Exception {
        String day = text("/day/" + DAY, SignedIn.lead(clinic.id()));
        assertThat(day).contains(sound).contains("seen, times missing").doesNotContain("since null", "finished null");
        assertThat(count(day, "check these times")).isEqualTo(IN_APPOINTMENTS.size());
        for (int i = 0; i < IN_APPOINTMENTS.size(); i++) {
            assertThat(day).contains("Strange" + i + ",");
        }
        String list = text("/day/" + DAY + "/now", SignedIn.practitioner(clinic.id(), clinic.p1()));
        assertThat(count(list, "check these times")).isPositive();
        String api = text("/api/v1/days/" + DAY, SignedIn.program(clinic.id()));
        assertThat(count(api, "\"timesPlausible\":false")).isEqualTo(IN_APPOINTMENTS.size());
        assertThat(api).contains("\"projectedStart\":{");
    }

    private static int count(String text, String part) {
        return (text.length() - text.replace(part, "").length()) / part.length();
    }

    private UUID booked(Patient patient, LocalDateTime start, boolean second) {
        Referral referral = fixture.referral(
                clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        UUID id = fixture.appointment(
                clinic, referral, second ? fixture.secondPlace(clinic, start, 15) : fixture.place(clinic, start, 15));
        add("/appointments", id);
        add("/referrals", referral.id());
        add("/patients", patient.id());
        return id;
    }

    /** Past visits like the one given, each with something wrong. */
    private void plantPast(UUID appointment) {
        UUID like = jdbc.queryForObject("select visit_id from appointment where id = ?", UUID.class, appointment);
        List<String> columns = jdbc.queryForList(
                "select lower(column_name) from information_schema.columns where lower(table_name) = 'visit'"
                        + " and lower(table_schema) = 'public' order by ordinal_position",
                String.class);
        for (int i = 0; i <= IN_VISITS.size(); i++) {
            UUID id = UUID.randomUUID();
            Map<String, String> changed = Map.of(
                    "id", "'" + id + "'",
                    "visit_ref", "'past-" + i + "'",
                    "visit_date", "date '2026-02-10'",
                    "arrived", at("09:20"),
                    "booked_start", at("09:30"),
                    "called_in", at("09:31"),
                    "finished", at("09:50"),
                    "room_ready", at("09:55"));
            String values = columns.stream()
                    .map(column -> changed.getOrDefault(column, column))
                    .collect(Collectors.joining(", "));
            jdbc.update(
                    "insert into visit (" + String.join(", ", columns) + ") select " + values
                            + " from visit where id = ?",
                    like);
            if (i < IN_VISITS.size()) {
                plant("visit", IN_VISITS.get(i), id);
            }
        }
    }

    /** Into what the referral says, and into what is on record of the patient. */
    private void plantCautions(Patient patient, UUID appointment, String what) {
        UUID referral =
                jdbc.queryForObject("select referral_id from appointment where id = ?", UUID.class, appointment);
        assertThat(jdbc.update("update referral_caution set " + what + " where referral_id = ?", referral))
                .as(what)
                .isEqualTo(1);
        UUID recorded = UUID.randomUUID();
        jdbc.update(
                "insert into patient_caution (id, clinic_id, patient_id, caution, all_clear, basis, recorded_on,"
                        + " recorded_by, confirmed_on, confirmed_by, version)"
                        + " values (?, ?, ?, 'tinnitus', false, 'asked', date '2025-01-01', 'r', date '2025-01-01', 'r', 0)",
                recorded,
                clinic.id().value(),
                patient.id());
        plant("patient_caution", what, recorded);
    }

    private static String at(String time) {
        return "timestamp with time zone '2026-02-10 " + time + ":00+00'";
    }

    private void plant(String table, String what, UUID id) {
        assertThat(jdbc.update("update " + table + " set " + what + " where id = ?", id))
                .as(what)
                .isEqualTo(1);
    }

    private void add(String variable, Object value) {
        ids.computeIfAbsent(variable, any -> new TreeSet<>()).add(value.toString());
    }

    private void ask(String address, String name, RequestPostProcessor asker, List<String> problems) {
        try {
            MockHttpServletResponse answer =
                    mvc.perform(get(address).with(asker)).andReturn().getResponse();
            if (answer.getStatus() >= 500) {
                problems.add(address + " answers a " + name + " with " + answer.getStatus());
            }
        } catch (Exception e) {
            Throwable cause = e;
            while (cause.getCause() != null) {
                cause = cause.getCause();
            }
            problems.add(address + " answers a " + name + " with " + cause + " at " + cause.getStackTrace()[0]);
        }
    }

    private String text(String address, RequestPostProcessor asker) throws Exception {
        MockHttpServletResponse answer =
                mvc.perform(get(address).with(asker)).andReturn().getResponse();
        assertThat(answer.getStatus()).isEqualTo(200);
        return answer.getContentAsString(StandardCharsets.UTF_8);
    }

    private Set<String> addresses() {
        Set<String> addresses = new EveryAddress(ids).of(mappings);
        ids.get("/appointments").forEach(id -> addresses.add("/slots?appointment=" + id));
        ids.get("/referrals").forEach(id -> addresses.add("/slots?referral=" + id));
        ids.get("/referrals").forEach(id -> addresses.add("/estimate?referral=" + id));
        return addresses;
    }
}
