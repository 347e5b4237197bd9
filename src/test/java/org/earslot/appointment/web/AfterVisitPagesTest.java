package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import org.earslot.aftercare.FollowUps;
import org.earslot.aftercare.Recall;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.data.domain.Limit;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class AfterVisitPagesTest {

    /** A Tuesday, when the settable clock starts. */
    private static final Instant MORNING = Instant.parse("2026-03-03T09:00:00Z");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private RunningDay running;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Autowired
    private Referrals referrals;

    @Autowired
    private Recall recall;

    @Autowired
    private FollowUps followUps;

    @Autowired
    private PatientCautions patientCautions;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor practitioner;
    private RequestPostProcessor lead;

    @BeforeEach
    void opensAClinic() {
        clock.set(MORNING);
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        lead = SignedIn.lead(clinic.id());
    }

    @AfterEach
    void leavesTheClockAsItWas() {
        clock.set(MORNING);
    }

    @Test
    void calls_in_twice_and_counts_the_minutes_outside_as_no_time_in_room() throws Exception {
        UUID id = calledIn(Method.IRRIGATION, Ears.LEFT);
        clock.advance(Duration.ofMinutes(8));
        press("/step-out", id, receptionist, 403);
        press("/step-out", id, practitioner, 302);
        press("/step-out", id, practitioner, 409);
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content().string(containsString("call in again from 09:23")));
        clock.advance(Duration.ofMinutes(16));
        press("/call-in-again", id, practitioner, 302);
        press("/call-in-again", id, practitioner, 409);
        clock.advance(Duration.ofMinutes(6));
        running.record(clinic.id(), id, ClockEvent.FINISHED);
        assertThat(visit(id).timeInRoom()).contains(Duration.ofMinutes(14));
    }

    @Test
    void calls_nobody_in_again_who_was_not_sent_outside() throws Exception {
        UUID id = calledIn(Method.IRRIGATION, Ears.LEFT);
        press("/call-in-again", id, practitioner, 409);
        press("/step-out", UUID.randomUUID(), practitioner, 404);
    }

    @Test
    void offers_a_follow_up_sized_with_what_was_found_and_takes_it_in_once() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.BOTH);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("right.method1", "microsuction")
                        .param("right.outcome", "clear")
                        .param("left.method1", "microsuction")
                        .param("left.wax", "sticky")
                        .param("left.depth", "against_drum")
                        .param("left.outcome", "residual"));
        mvc.perform(get("/appointments/" + id).with(receptionist))
                .andExpect(content().string(containsString("not decided")))
                .andExpect(content().string(containsString("left ear, microsuction: 1 attempt, 0 failed.")))
                .andExpect(content().string(not(containsString("Follow-up by microsuction"))));
        followUp(id, "microsuction", "5", 409);
        decide(id, "come_again", receptionist, 403);
        decide(id, "later", practitioner, 400);
        decide(id, "come_again", practitioner, 302);
        mvc.perform(get("/appointments/" + id).with(receptionist))
                .andExpect(content().string(containsString("What follows (left)")))
                .andExpect(content().string(containsString("Follow-up by microsuction: ")))
                .andExpect(content().string(containsString("left ear, microsuction: 1 attempt, 1 failed.")));
        followUp(id, "microsuction", "5", 302);
        followUp(id, "microsuction", "5", 302);
        List<Referral> open = referrals.standingAt(clinic.id(), "ready_to_book", Limit.of(9));
        assertThat(open).singleElement().satisfies(referral -> {
            ReferralDetails said = referral.details();
            assertThat(said.request().ears()).isEqualTo(Ears.LEFT);
            assertThat(said.request().firstVisit()).isEqualTo(Answer.NO);
            assertThat(said.reported().left().wax()).isEqualTo(Wax.STICKY);
            assertThat(said.request().notBefore()).isEqualTo("2026-03-08");
            assertThat(said.request().lastTime()).contains("microsuction", "residual");
            assertThat(said.cautions().yes()).hasSize(1);
            assertThat(said.cautions().asked()).isFalse();
            mvc.perform(get("/referrals/" + referral.id()).with(receptionist))
                    .andExpect(content().string(containsString("id=\"cautions-to-confirm\"")))
                    .andExpect(content().string(containsString("imported 3 Mar 2026")));
        });
    }

    @Test
    void offers_another_method_after_the_second_irrigation_that_failed() throws Exception {
        UUID id = finished(Method.IRRIGATION, Ears.LEFT);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "irrigation")
                        .param("left.method2", "irrigation")
                        .param("left.outcome", "not_removed")
                        .param("nextStep", "come_again"));
        mvc.perform(get("/appointments/" + id).with(receptionist))
                .andExpect(content().string(containsString("Irrigation has failed twice")))
                .andExpect(content().string(not(containsString("Follow-up by irrigation"))))
                .andExpect(content().string(containsString("Follow-up by microsuction")));
        followUp(id, "irrigation", "0", 409);
        followUp(id, "manual_removal", "0", 302);
    }

    /** What otoscopy finds is a caution from then on; the follow-up is judged with it, the most suitable method first. */
    @Test
    void judges_the_follow_up_with_what_was_found_and_keeps_it_with_the_patient() throws Exception {
        UUID id = finished(Method.IRRIGATION, Ears.LEFT);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "irrigation")
                        .param("left.outcome", "unsuitable_on_day")
                        .param("left.found.perforation", "yes")
                        .param("nextStep", "come_again"));
        UUID patient = appointments
                .findByClinicIdAndId(clinic.id(), id)
                .flatMap(Appointment::patientId)
                .orElseThrow();
        assertThat(patientCautions.inForce(clinic.id(), patient, DiaryFixture.WEDNESDAY.plusYears(2)))
                .anySatisfy(one -> {
                    assertThat(one.caution()).isEqualTo(Caution.PERFORATION);
                    assertThat(one.ear()).isEqualTo(Ear.LEFT);
                    assertThat(one.basis()).isEqualTo("found");
                });
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content().string(not(containsString("Follow-up by irrigation"))))
                .andExpect(content().string(containsString("No softener before this visit")));
        FollowUps.Next next = followUps
                .next(appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow())
                .orElseThrow();
        assertThat(next.softenerDays()).isNull();
        assertThat(next.cautions())
                .extracting(AskedCaution::caution)
                .containsExactly(Caution.TINNITUS, Caution.PERFORATION);
        assertThat(next.ways()).extracting(FollowUps.Way::method).doesNotContain(Method.IRRIGATION);
        assertThat(next.ways())
                .isSortedAccordingTo(Comparator.comparing(way -> way.suits().verdict()));
        followUp(id, "microsuction", "5", 400);
        followUp(id, "microsuction", "0", 302);
        assertThat(referrals.standingAt(clinic.id(), "ready_to_book", Limit.of(9)))
                .singleElement()
                .satisfies(referral ->
                        assertThat(referral.details().cautions().confirmed()).contains(Caution.PERFORATION));
    }

    @Test
    void proposes_a_complication_after_an_adverse_event_and_records_it_in_one_press() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "clear")
                        .param("left.adverse.dizziness", "yes")
                        .param("left.adverse.bleed", "yes"));
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content()
                        .string(containsString("Add the caution: complication with microsuction before, left ear")))
                .andExpect(result -> assertThat(Jsoup.parse(result.getResponse().getContentAsString())
                                .select("#complication p")
                                .eachText())
                        .contains("left ear: bleeding, dizziness"));
        complication(id, "irrigation", practitioner, 409);
        complication(id, "microsuction", receptionist, 403);
        complication(id, "microsuction", practitioner, 302);
        complication(id, "microsuction", practitioner, 409);
        UUID patient = appointments
                .findByClinicIdAndId(clinic.id(), id)
                .flatMap(Appointment::patientId)
                .orElseThrow();
        assertThat(patientCautions.inForce(clinic.id(), patient, DiaryFixture.WEDNESDAY))
                .anySatisfy(one -> {
                    assertThat(one.caution()).isEqualTo(Caution.COMPLICATION_BEFORE);
                    assertThat(one.method()).isEqualTo(Method.MICROSUCTION);
                });
    }

    private void complication(UUID id, String method, RequestPostProcessor who, int expected) throws Exception {
        mvc.perform(post("/appointments/" + id + "/complication")
                        .param("ear", "left")
                        .param("method", method)
                        .with(who)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    @Test
    void counts_a_second_irrigation_at_one_visit_and_offers_no_third() throws Exception {
        UUID id = calledIn(Method.IRRIGATION, Ears.LEFT);
        clock.advance(Duration.ofMinutes(8));
        press("/step-out", id, practitioner, 302);
        clock.advance(Duration.ofMinutes(15));
        press("/call-in-again", id, practitioner, 302);
        clock.advance(Duration.ofMinutes(6));
        running.record(clinic.id(), id, ClockEvent.FINISHED);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "irrigation")
                        .param("left.outcome", "not_removed")
                        .param("nextStep", "come_again"));
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content().string(containsString("left ear, irrigation: 2 attempts, 2 failed.")))
                .andExpect(content().string(not(containsString("Follow-up by irrigation"))));
    }

    @Test
    void follows_nothing_where_the_ear_is_clear() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "clear"));
        mvc.perform(get("/appointments/" + id).with(receptionist))
                .andExpect(content().string(not(containsString("What follows"))));
        followUp(id, "microsuction", "0", 409);
    }

    @ParameterizedTest
    @CsvSource({"laser, 0", "'', 0", "microsuction, 61", "microsuction, -1", "microsuction, soon"})
    void refuses_a_follow_up_that_cannot_be(String method, String days) throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.outcome", "residual"));
        followUp(id, method, days, 400);
    }

    @Test
    void prints_the_confirmation_with_the_methods_advice_and_only_the_fields_chosen() throws Exception {
        UUID id = diary.appointment(
                clinic,
                diary.referral(clinic, Method.IRRIGATION, Ears.BOTH),
                diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30));
        mvc.perform(get("/appointments/" + id + "/letters/confirmation").with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Dear Pat Testley")))
                .andExpect(content().string(containsString("Wednesday 4 March 2026, 10:00")))
                .andExpect(content().string(containsString("for up to 5 days before you come")))
                .andExpect(content().string(not(containsString("17 May 1951"))));
        mvc.perform(get("/appointments/" + id + "/letters/aftercare").with(receptionist))
                .andExpect(status().isNotFound());
    }

    @Test
    void lets_the_lead_word_a_letter_and_refuses_unknown_fields() throws Exception {
        word("confirmation", "Hello {patient} <b>{born}</b>", 302);
        UUID id = diary.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(get("/appointments/" + id + "/letters/confirmation").with(receptionist))
                .andExpect(content().string(containsString("Hello Pat Testley &lt;b&gt;17 May 1951&lt;/b&gt;")));
        word("confirmation", "Hello {diagnosis}", 400);
        word("confirmation", "", 400);
        word("confirmation", "x".repeat(4001), 400);
        word("advice_irrigation", "Dear {patient}", 400);
        word("poem", "roses", 404);
        mvc.perform(get("/setup/letters/confirmation").with(lead))
                .andExpect(content().string(containsString("{born}")));
    }

    @ParameterizedTest
    @CsvSource({
        // last seen 3 March 2026, recalled after 6 months: less a day, on the day
        "6, 2026-09-02, false",
        "6, 2026-09-03, true",
        "3, 2026-06-02, false",
        "3, 2026-06-03, true",
        "0, 2030-01-01, false"
    })
    void recalls_hearing_aid_wearers_by_policy(String months, String today, boolean due) throws Exception {
        finished(Method.MICROSUCTION, Ears.LEFT);
        mvc.perform(post("/setup/recall")
                        .param("version", "6")
                        .param("months", months)
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        clock.set(Instant.parse(today + "T12:00:00Z"));
        assertThat(recall.today(clinic.id())).hasSize(due ? 1 : 0);
    }

    @Test
    void recalls_those_of_whom_only_the_visit_log_says_that_they_wear_one() throws Exception {
        String log = """
                visit_id,patient_ref,date,practitioner,room,attendance,method_planned,ears,hearing_aid,booked_start,slot_minutes,called_in,finished
                V1,WEARS,2025-06-02,P1,R1,attended,microsuction,left,yes,09:00,30,09:00,09:20
                V2,NO-MORE,2025-05-02,P1,R1,attended,microsuction,left,yes,09:00,30,09:00,09:20
                V3,NO-MORE,2025-06-03,P1,R1,attended,microsuction,left,no,09:00,30,09:00,09:20
                V4,NEVER-SAID,2025-06-04,P1,R1,attended,microsuction,left,,09:00,30,09:00,09:20
                V5,LATELY,2026-02-04,P1,R1,attended,microsuction,left,yes,09:00,30,09:00,09:20
                """;
        mvc.perform(post("/api/v1/visit-log")
                        .with(SignedIn.program(clinic.id()))
                        .contentType("text/csv")
                        .content(log))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.accepted").value(5));
        assertThat(recall.today(clinic.id()))
                .extracting(Recall.Due::localNumber)
                .containsExactly("WEARS");
        mvc.perform(get("/referrals/recalls").with(receptionist))
                .andExpect(content().string(containsString("1 patient is due.")))
                .andExpect(content().string(containsString("WEARS")));
    }

    @ParameterizedTest
    @CsvSource({"5", "7", "-3", "often", "''"})
    void recalls_after_3_or_6_months_or_never(String months) throws Exception {
        mvc.perform(post("/setup/recall")
                        .param("version", "6")
                        .param("months", months)
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().isBadRequest());
    }

    /** The version that the form of a page carries now. */
    private String shown(String page) throws Exception {
        return Jsoup.parse(mvc.perform(get(page).with(lead))
                        .andReturn()
                        .getResponse()
                        .getContentAsString())
                .select("form[method=post] input[name=version]")
                .val();
    }

    private void word(String kind, String body, int expected) throws Exception {
        mvc.perform(post("/setup/letters/" + kind)
                        .param("version", shown("/setup/letters/" + kind))
                        .param("body", body)
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    @Test
    void leaves_red_flags_of_a_follow_up_to_be_asked_unless_a_practitioner_has_asked_again() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        findings(
                id,
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "residual")
                        .param("nextStep", "come_again"));
        mvc.perform(post("/appointments/" + id + "/follow-up")
                        .param("method", "microsuction")
                        .param("nothingNew", "yes")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isConflict());
        mvc.perform(post("/appointments/" + id + "/follow-up")
                        .param("method", "microsuction")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(referrals.standingAt(clinic.id(), "to_triage", Limit.of(9)))
                .singleElement()
                .satisfies(referral ->
                        assertThat(referral.details().redFlags().answers()).isEmpty());
    }

    private void decide(UUID id, String step, RequestPostProcessor who, int expected) throws Exception {
        mvc.perform(post("/appointments/" + id + "/next-step")
                        .param("step", step)
                        .with(who)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    private void followUp(UUID id, String method, String days, int expected) throws Exception {
        mvc.perform(post("/appointments/" + id + "/follow-up")
                        .param("method", method)
                        .param("softenerDays", days)
                        .param("nothingNew", "yes")
                        .with(practitioner)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    private void findings(UUID id, MockHttpServletRequestBuilder form) throws Exception {
        mvc.perform(form.with(practitioner).with(csrf())).andExpect(status().is3xxRedirection());
        assertThat(visit(id).outcome(Ear.LEFT)).isPresent();
    }

    private void press(String verb, UUID id, RequestPostProcessor who, int expected) throws Exception {
        mvc.perform(post("/appointments/" + id + verb).with(who).with(csrf())).andExpect(status().is(expected));
    }

    private Visit visit(UUID appointment) {
        UUID id = appointments
                .findByClinicIdAndId(clinic.id(), appointment)
                .orElseThrow()
                .visitId()
                .orElseThrow();
        return visits.findByClinicIdAndId(clinic.id(), id).orElseThrow();
    }

    private UUID finished(Method method, Ears ears) {
        UUID id = calledIn(method, ears);
        clock.advance(Duration.ofMinutes(20));
        running.record(clinic.id(), id, ClockEvent.FINISHED);
        return id;
    }

    private UUID calledIn(Method method, Ears ears) {
        UUID id = diary.appointment(
                clinic,
                diary.referral(clinic, method, ears),
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        running.record(clinic.id(), id, ClockEvent.ARRIVED);
        running.record(clinic.id(), id, ClockEvent.CALLED_IN);
        return id;
    }
}
