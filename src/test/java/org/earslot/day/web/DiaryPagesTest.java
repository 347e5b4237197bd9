package org.earslot.day.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
import static org.earslot.testing.SignedIn.lead;
import static org.earslot.testing.SignedIn.practitioner;
import static org.earslot.testing.SignedIn.receptionist;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrlPattern;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** The diary's pages: what they show, to whom, and how they refuse. */
@PageTest
class DiaryPagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Autowired
    private Patients patients;

    @Autowired
    private OtherVisitKinds kinds;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void tuesday_nine_o_clock() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
    }

    @Test
    void day_leads_to_today_and_shows_a_lane_in_each_row() throws Exception {
        mvc.perform(get("/day").with(receptionist(clinic.id()))).andExpect(redirectedUrl("/day/2026-03-03"));
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 30), 30);
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Wednesday 4 March 2026")))
                .andExpect(content().string(containsString("Testley, Pat")))
                .andExpect(content().string(containsString("class=\"day-lane expected\"")))
                .andExpect(content().string(containsString("Likely in")))
                .andExpect(content().string(not(containsString("style="))));
    }

    @Test
    void day_without_session_says_so() throws Exception {
        mvc.perform(get("/day/2026-03-07").with(receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("No session and no appointment")));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/day/2026-03-04",
                "/slots?referral=00000000-0000-0000-0000-000000000001",
                "/appointments/00000000-0000-0000-0000-000000000001",
                "/day"
            })
    void every_page_sends_the_anonymous_visitor_to_sign_in(String path) throws Exception {
        mvc.perform(get(path)).andExpect(status().is3xxRedirection()).andExpect(redirectedUrlPattern("/sign-in*"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/day/2026-13-45",
                "/day/tomorrow",
                "/day/9999999-01-01",
                "/day/1066-10-14",
                "/day/2026-02-30",
                "/appointments/1%27%20or%201=1",
                "/slots",
                "/slots?referral=%3Cscript%3E",
                "/day/+999999999-12-31"
            })
    void absurd_dates_and_hostile_ids_get_4xx(String path) throws Exception {
        MockHttpServletResponse response = mvc.perform(
                        get(java.net.URI.create(path)).with(lead(clinic.id())))
                .andReturn()
                .getResponse();
        assertThat(response.getStatus()).isBetween(400, 499);
        assertThat(response.getContentAsString()).doesNotContain("<script>", "Exception", "\tat ");
    }

    @Test
    void what_belongs_to_another_clinic_is_not_found() throws Exception {
        TestClinic other = clinics.open();
        UUID theirs = fixture.appointment(other, WEDNESDAY.atTime(10, 0), 30);
        Referral referral = fixture.referral(other, Method.MICROSUCTION, Ears.BOTH);
        RequestPostProcessor me = lead(clinic.id());
        mvc.perform(get("/appointments/" + theirs).with(me)).andExpect(status().isNotFound());
        mvc.perform(get("/slots?referral=" + referral.id()).with(me)).andExpect(status().isNotFound());
        mvc.perform(get("/slots?appointment=" + theirs).with(me)).andExpect(status().isNotFound());
        for (String verb : List.of("check-in", "call-in", "did-not-attend", "late-not-seen")) {
            mvc.perform(post("/appointments/" + theirs + "/" + verb).with(me).with(csrf()))
                    .andExpect(status().isNotFound());
        }
        mvc.perform(post("/appointments/" + theirs + "/cancel")
                        .param("version", "0")
                        .param("by", "clinic")
                        .param("why", "x")
                        .with(me)
                        .with(csrf()))
                .andExpect(status().isNotFound());
        mvc.perform(get("/day/" + WEDNESDAY).with(me)).andExpect(content().string(not(containsString("Testley"))));
        assertThat(appointments.findById(theirs).orElseThrow().status()).isEqualTo(AppointmentStatus.BOOKED);
    }

    @Test
    void offer_is_booked_with_one_press_and_taken_back() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        String page = mvc.perform(get("/slots?referral=" + referral.id()).with(receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Why this long")))
                .andReturn()
                .getResponse()
                .getContentAsString();
        String start = field(page, "start");
        MockHttpServletResponse booked = mvc.perform(post("/appointments")
                        .param("referral", referral.id().toString())
                        .param("practitioner", field(page, "practitioner"))
                        .param("room", field(page, "room"))
                        .param("start", start)
                        .param("slotMinutes", field(page, "slotMinutes"))
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(redirectedUrlPattern("/appointments/*"))
                .andReturn()
                .getResponse();
        String url = booked.getRedirectedUrl();
        mvc.perform(get(url).with(receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("/undo")))
                .andExpect(content().string(containsString(start.substring(11))));
        mvc.perform(post(url + "/undo")
                        .param("version", "0")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(redirectedUrl("/slots?referral=" + referral.id()));
        assertThat(appointment(url).status()).isEqualTo(AppointmentStatus.ENTERED_IN_ERROR);
    }

    @Test
    void booking_twice_books_once_and_says_why() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        mvc.perform(bookingOf(referral, "2026-03-04T10:00")).andExpect(status().is3xxRedirection());
        mvc.perform(bookingOf(referral, "2026-03-04T10:00"))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("has an appointment already")));
        assertThat(appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinic.id(), WEDNESDAY))
                .hasSize(1);
    }

    @Test
    void taken_place_is_said_and_the_next_is_offered() throws Exception {
        fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(bookingOf(fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH), "2026-03-04T10:00"))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("That slot has just been taken.")))
                .andExpect(content().string(containsString("By date")));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "2026-03-04T10:02",
                "2026-03-04T12:50",
                "2026-03-07T10:00",
                "2026-03-03T08:00",
                "2028-03-01T10:00",
                "99999-01-01T10:00",
                "yesterday",
                ""
            })
    void place_that_breaks_a_rule_is_refused_and_nothing_is_booked(String start) throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        int status = mvc.perform(bookingOf(referral, start))
                .andReturn()
                .getResponse()
                .getStatus();
        assertThat(status).isBetween(400, 499);
        assertThat(appointments.findByClinicIdAndReferralIdInOrderByStartsAt(clinic.id(), List.of(referral.id())))
                .isEmpty();
    }

    @Test
    void post_without_token_is_refused() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(post("/appointments/" + id + "/check-in").with(lead(clinic.id())))
                .andExpect(status().isForbidden());
    }

    @Test
    void receptionist_checks_in_but_does_not_call_in_nor_record() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        clock.set(Instant.parse("2026-03-04T09:55:00Z"));
        for (String verb : List.of(
                "call-in", "finish", "room-ready", "findings", "times?version=1", "findings/right/as-expected")) {
            mvc.perform(post("/appointments/" + id + "/" + verb)
                            .with(receptionist(clinic.id()))
                            .with(csrf()))
                    .andExpect(status().isForbidden());
        }
        press(id, "check-in", receptionist(clinic.id())).andExpect(redirectedUrl("/day/" + WEDNESDAY));
        assertThat(appointments.findById(id).orElseThrow().status()).isEqualTo(AppointmentStatus.CHECKED_IN);
    }

    @Test
    void visit_runs_from_check_in_to_outcome_in_single_presses() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        RequestPostProcessor chair = practitioner(clinic.id(), clinic.p1());
        at("09:55");
        press(id, "check-in", chair);
        at("10:04");
        press(id, "call-in", chair);
        mvc.perform(get("/day/" + WEDNESDAY).with(chair))
                .andExpect(content().string(containsString("in the room since 10:04")));
        at("10:31");
        press(id, "finish", chair);
        mvc.perform(get("/day/" + WEDNESDAY).with(chair))
                .andExpect(content().string(containsString("outcome missing")));
        at("10:36");
        press(id, "room-ready", chair);
        mvc.perform(post("/appointments/" + id + "/findings/right/as-expected")
                        .with(chair)
                        .with(csrf()))
                .andExpect(redirectedUrl("/appointments/" + id));
        mvc.perform(post("/appointments/" + id + "/findings")
                        .with(fixture.justOpened())
                        .param("right.outcome", "clear")
                        .param("right.method1", "microsuction")
                        .param("left.method1", "microsuction")
                        .param("left.method2", "manual_removal")
                        .param("left.wax", "hard")
                        .param("left.outcome", "residual")
                        .param("stoppedEarly", "comfort")
                        .param("note", "Rest at the next visit")
                        .with(chair)
                        .with(csrf()))
                .andExpect(redirectedUrl("/appointments/" + id));
        Appointment appointment = appointments.findById(id).orElseThrow();
        var visit = visits.findById(appointment.visitId().orElseThrow()).orElseThrow();
        assertThat(visit.methods(org.earslot.ear.Ear.LEFT)).containsExactly(Method.MICROSUCTION, Method.MANUAL_REMOVAL);
        assertThat(visit.timeInRoom()).contains(java.time.Duration.ofMinutes(27));
        assertThat(visit.times().roomReady()).isEqualTo(Instant.parse("2026-03-04T10:36:00Z"));
        mvc.perform(get("/appointments/" + id).with(chair))
                .andExpect(content().string(containsString("Rest at the next visit")));
    }

    @Test
    void findings_with_a_wrong_word_keep_what_was_typed() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        RequestPostProcessor chair = lead(clinic.id());
        at("10:00");
        press(id, "call-in", chair);
        mvc.perform(post("/appointments/" + id + "/findings")
                        .with(fixture.justOpened())
                        .param("right.wax", "granite")
                        .param("note", "typed before the mistake")
                        .with(chair)
                        .with(csrf()))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("typed before the mistake")))
                .andExpect(content().string(containsString("loose, soft, sticky, firm, hard")));
    }

    @Test
    void cancelling_needs_who_and_keeps_what_was_typed() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(post("/appointments/" + id + "/cancel")
                        .param("version", "0")
                        .param("why", "away that week")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("away that week")));
        mvc.perform(post("/appointments/" + id + "/cancel")
                        .param("version", "0")
                        .param("by", "patient")
                        .param("why", "away that week")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(redirectedUrl("/appointments/" + id));
        mvc.perform(get("/appointments/" + id).with(receptionist(clinic.id())))
                .andExpect(content().string(containsString("cancelled by patient")))
                .andExpect(content().string(containsString("away that week")));
    }

    @Test
    void an_appointment_can_be_cancelled_without_a_reason() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(post("/appointments/" + id + "/cancel")
                        .param("version", "0")
                        .param("by", "patient")
                        .param("why", "")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(redirectedUrl("/appointments/" + id));
        mvc.perform(get("/appointments/" + id).with(receptionist(clinic.id())))
                .andExpect(content().string(containsString("no reason given")));
    }

    @Test
    void stale_version_is_refused() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(post("/appointments/" + id + "/confirm")
                        .param("version", "0")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        mvc.perform(post("/appointments/" + id + "/cancel")
                        .param("version", "0")
                        .param("by", "patient")
                        .param("why", "ill")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("has just changed this appointment")));
    }

    @Test
    void move_is_offered_done_and_undone() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(get("/slots?appointment=" + id).with(receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Move here")));
        var moved = mvc.perform(movingOf(id, 0, "2026-03-05T11:00"))
                .andExpect(redirectedUrl("/appointments/" + id))
                .andReturn();
        mvc.perform(get("/appointments/" + id)
                        .cookie(moved.getResponse().getCookies())
                        .with(receptionist(clinic.id())))
                .andExpect(content().string(containsString("Undo the move")))
                .andExpect(content().string(containsString("value=\"2026-03-04T10:00\"")));
        mvc.perform(movingOf(id, 1, "2026-03-04T10:00")).andExpect(redirectedUrl("/appointments/" + id));
        assertThat(appointments.findById(id).orElseThrow().place().date()).isEqualTo(WEDNESDAY);
    }

    @Test
    void fit_in_needs_a_reason_and_stands_in_the_list_without_a_slot() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
        String number = patients.findById(referral.patientId())
                .map(Patient::localNumber)
                .orElseThrow();
        String session = sessionOf(WEDNESDAY);
        String unreferred = fixture.patient(clinic, "Oakfield", "Tessaly").localNumber();
        mvc.perform(post("/day/" + WEDNESDAY + "/fit-in")
                        .param("fitInPatient", unreferred)
                        .param("fitInSession", session)
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("a reason")));
        mvc.perform(post("/day/" + WEDNESDAY + "/fit-in")
                        .param("fitInPatient", number)
                        .param("fitInSession", session)
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("as the referral says")));
        mvc.perform(post("/day/" + WEDNESDAY + "/fit-in")
                        .param("fitInPatient", number)
                        .param("fitInSession", session)
                        .param("fitInReason", "walked in, hearing aid blocked")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("None of these: all were asked")));
        mvc.perform(post("/day/" + WEDNESDAY + "/fit-in")
                        .param("fitInPatient", number)
                        .param("fitInSession", session)
                        .param("fitInReason", "walked in, hearing aid blocked")
                        .param("asked", "yes")
                        .param("noneFlagged", "yes")
                        .param("cautionsAsked", "yes")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(redirectedUrl("/day/" + WEDNESDAY));
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist(clinic.id())))
                .andExpect(content().string(containsString("fit-in: walked in, hearing aid blocked")));
    }

    /** The reason of a fit-in may be missing in the database; the day then says only what is known. */
    @Test
    void fit_in_without_a_reason_is_only_called_one() throws Exception {
        Appointment booked = appointments
                .findById(fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30))
                .orElseThrow();
        jdbc.sql("update appointment set fit_in = true, fit_in_reason = null where id = ?")
                .param(booked.id())
                .update();
        String page = mvc.perform(get("/day/" + WEDNESDAY).with(receptionist(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(Jsoup.parse(page)
                        .select("tr[data-visit=" + booked.id() + "]")
                        .text())
                .contains("fit-in")
                .doesNotContain("null");
    }

    @Test
    void other_visit_of_fixed_length_takes_its_place() throws Exception {
        UUID kind = kinds.save(new OtherVisitKind(UUID.randomUUID(), clinic.id(), "impression", 25))
                .id();
        Patient patient = fixture.patient(clinic, "Otherly", "Kim");
        mvc.perform(post("/day/" + WEDNESDAY + "/other-visit")
                        .param("otherPatient", patient.localNumber())
                        .param("otherKind", kind.toString())
                        .param("otherSession", sessionOf(WEDNESDAY))
                        .param("otherStart", "10:00")
                        .with(receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(redirectedUrl("/day/" + WEDNESDAY));
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist(clinic.id())))
                .andExpect(content().string(containsString("Otherly, Kim")))
                .andExpect(content().string(containsString("impression")));
        mvc.perform(bookingOf(fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT), "2026-03-04T10:20"))
                .andExpect(status().isConflict());
    }

    private String sessionOf(LocalDate date) throws Exception {
        String page = mvc.perform(get("/day/" + date).with(receptionist(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
        Matcher option = Pattern.compile("<option\\s+value=\"([0-9a-f-]+@" + date + ")\"")
                .matcher(page);
        assertThat(option.find()).isTrue();
        return option.group(1);
    }

    private void at(String time) {
        clock.set(Instant.parse("2026-03-04T" + time + ":00Z"));
    }

    private org.springframework.test.web.servlet.ResultActions press(UUID id, String verb, RequestPostProcessor who)
            throws Exception {
        return mvc.perform(post("/appointments/" + id + "/" + verb)
                        .param("back", "day")
                        .with(who)
                        .with(csrf()))
                .andExpect(redirectedUrl("/day/" + WEDNESDAY));
    }

    private org.springframework.test.web.servlet.RequestBuilder bookingOf(Referral referral, String start) {
        return post("/appointments")
                .param("referral", referral.id().toString())
                .param("practitioner", clinic.p1().toString())
                .param("room", clinic.r1().toString())
                .param("start", start)
                .param("slotMinutes", "30")
                .with(receptionist(clinic.id()))
                .with(csrf());
    }

    private org.springframework.test.web.servlet.RequestBuilder movingOf(UUID id, int version, String start) {
        return post("/appointments/" + id + "/move")
                .param("version", String.valueOf(version))
                .param("practitioner", clinic.p1().toString())
                .param("room", clinic.r1().toString())
                .param("start", start)
                .param("slotMinutes", "30")
                .with(receptionist(clinic.id()))
                .with(csrf());
    }

    private Appointment appointment(String url) {
        return appointments
                .findById(UUID.fromString(url.substring(url.lastIndexOf('/') + 1)))
                .orElseThrow();
    }

    private static String field(String page, String name) {
        Matcher found = Pattern.compile("<input\\s+type=\"hidden\"\\s+name=\"" + name + "\"\\s+value=\"([^\"]+)\"")
                .matcher(page);
        assertThat(found.find()).as("field %s", name).isTrue();
        return found.group(1);
    }
}
