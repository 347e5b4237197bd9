package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.aftercare.MissedVisits;
import org.earslot.aftercare.Recall;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.FormVersion;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Letters as they are printed, who gets none, and missed visits that a person decides on. */
@PageTest
class LetterPagesTest {

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
    private Booking booking;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Patients patients;

    @Autowired
    private Referrals referrals;

    @Autowired
    private MissedVisits missed;

    @Autowired
    private Recall recall;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor practitioner;
    private RequestPostProcessor lead;

    @BeforeEach
    void opensAClinicThatCanBeReached() throws Exception {
        clock.set(MORNING);
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        lead = SignedIn.lead(clinic.id());
        press(
                post("/setup/contact")
                        .param("version", "0")
                        .param("phone", "01632 960100")
                        .param("address", "2 Larkspindle Yard\nOverwhistle")
                        .param("openingHours", "Monday to Friday"),
                lead,
                302);
    }

    @AfterEach
    void leavesTheClockAsItWas() {
        clock.set(MORNING);
    }

    @Test
    void carry_the_letterhead_and_the_number_to_call() throws Exception {
        UUID id = diary.appointment(
                clinic,
                diary.referral(clinic, Method.MANUAL_REMOVAL, Ears.BOTH),
                diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30));
        letter("/appointments/" + id + "/letters/confirmation")
                .andExpect(content().string(containsString("Please allow about 30 minutes.")))
                .andExpect(content().string(containsString("removal with small instruments")))
                .andExpect(content().string(not(containsString("manual removal"))))
                .andExpect(content().string(containsString("Bring your hearing aids")));
        mvc.perform(get("/setup").with(lead)).andExpect(content().string(containsString("value=\"01632 960100\"")));
        Document page = Jsoup.parse(letter("/appointments/" + id + "/letters/confirmation")
                .andReturn()
                .getResponse()
                .getContentAsString());
        assertThat(page.select(".letter-head > *").eachText())
                .containsExactly(
                        "Test clinic", "2 Larkspindle Yard", "Overwhistle", "01632 960100", "Monday to Friday");
        assertThat(page.select(".letter-date").text()).isEqualTo("3 March 2026");
        assertThat(page.select(".letter-sign .signature").text()).isEqualTo("Test clinic");
        assertThat(page.select(".notice").text()).contains("No address is recorded for this patient");
    }

    @Test
    void are_addressed_to_where_the_patient_lives() throws Exception {
        Patient patient = diary.patient(clinic, "Quill", "Pat");
        press(
                post("/patients/" + patient.id() + "/details")
                        .param("version", FormVersion.of(patient.version()).text())
                        .param("familyName", "Quill")
                        .param("givenName", "Pat")
                        .param("contact", "01632 960123")
                        .param("postalAddress", "7 Thistle Row\r\nUnderwhistle"),
                lead,
                302);
        Document page = Jsoup.parse(letter("/patients/" + patient.id() + "/letters/recall")
                .andReturn()
                .getResponse()
                .getContentAsString());
        assertThat(page.select(".letter-to > *").eachText())
                .containsExactly("Pat Quill", "7 Thistle Row", "Underwhistle");
        assertThat(page.select(".notice")).isEmpty();
    }

    @Test
    void edited_by_the_clinic_stay_as_they_are() throws Exception {
        String form = mvc.perform(get("/setup/letters/confirmation").with(lead))
                .andReturn()
                .getResponse()
                .getContentAsString();
        String version = form.replaceAll("(?s).*name=\"version\" value=\"([^\"]*)\".*", "$1");
        press(
                post("/setup/letters/confirmation").param("version", version).param("body", "{clinic}: see you {when}"),
                lead,
                302);
        UUID id = diary.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30);
        letter("/appointments/" + id + "/letters/confirmation")
                .andExpect(content().string(containsString("Test clinic: see you Wednesday 4 March 2026, 10:00")))
                .andExpect(content().string(not(containsString("Bring your hearing aids"))));
    }

    @Test
    void are_drafts_until_findings_are_recorded_and_say_nothing_that_is_not_decided() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        letter("/appointments/" + id + "/letters/patient")
                .andExpect(content().string(containsString("Draft: no findings are recorded")))
                .andExpect(content().string(not(containsString("data-print"))));
        press(
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "residual")
                        .param("left.adverse.dizziness", "yes")
                        .param("left.adverse.bleed", "yes")
                        .param("left.found.exostoses", "yes"),
                practitioner,
                302);
        letter("/appointments/" + id + "/letters/referrer")
                .andExpect(content().string(containsString("data-print")))
                .andExpect(content().string(containsString("Left ear: residual wax (microsuction).")))
                .andExpect(content().string(containsString("Adverse event: bleeding (left ear), dizziness (left ear)")))
                .andExpect(content().string(containsString("Cautions found on the day: exostoses (left ear)")))
                .andExpect(content().string(not(containsString("A further appointment is needed"))))
                .andExpect(content().string(containsString("Who acts now: –")));
        decide(id, "enough");
        letter("/appointments/" + id + "/letters/patient")
                .andExpect(content().string(containsString("Enough wax is out, and nothing further is planned.")));
        decide(id, "come_again");
        letter("/appointments/" + id + "/letters/patient")
                .andExpect(content().string(containsString("A further appointment is needed.")));
    }

    @Test
    void refer_on_with_all_that_the_next_service_needs() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        press(
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "not_removed")
                        .param("left.adverseEvent", "none"),
                practitioner,
                302);
        MockHttpServletRequestBuilder onward = post("/appointments/" + id + "/referred-on")
                .param("to", "Hill Street ear clinic")
                .param("reason", "hard wax against the drum")
                .param("priority", "soon")
                .param("hearing", "worse")
                .param("told", "yes");
        press(onward, practitioner, 409);
        decide(id, "refer_on");
        onward.param(
                "version",
                Jsoup.parse(mvc.perform(get("/appointments/" + id).with(practitioner))
                                .andReturn()
                                .getResponse()
                                .getContentAsString())
                        .select("form[action$=/referred-on] input[name=version]")
                        .val());
        press(onward, receptionist, 403);
        press(onward, practitioner, 302);
        letter("/appointments/" + id + "/letters/refer_on")
                .andExpect(content().string(containsString("To: Hill Street ear clinic")))
                .andExpect(content().string(containsString("Reason for this referral: hard wax against the drum")))
                .andExpect(content().string(containsString("Priority: soon")))
                .andExpect(content().string(containsString("Cautions known and found: tinnitus")))
                .andExpect(content().string(containsString("Change in hearing: worse")))
                .andExpect(content().string(containsString("Patient told of this referral: yes")))
                .andExpect(content().string(containsString("with the methods available here")))
                .andExpect(content().string(not(containsString("No method is left"))));
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content().string(containsString("value=\"Hill Street ear clinic\"")));
    }

    @Test
    void of_a_referral_of_a_cancelled_and_of_a_missed_appointment_exist() throws Exception {
        Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        UUID id = diary.appointment(clinic, referral, diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30));
        letter("/referrals/" + referral.id() + "/letters/invitation")
                .andExpect(content().string(containsString("We can now offer you an appointment for both ears")));
        letter("/referrals/" + referral.id() + "/letters/closing_referrer")
                .andExpect(content().string(containsString("received on 20 February 2026")));
        mvc.perform(get("/referrals/" + referral.id() + "/letters/confirmation").with(receptionist))
                .andExpect(status().isNotFound());
        booking.cancel(clinic.id(), id, version(id), CancelledBy.CLINIC, "practitioner ill");
        mvc.perform(get("/appointments/" + id).with(receptionist))
                .andExpect(content().string(containsString("/letters/cancellation")));
        letter("/appointments/" + id + "/letters/cancellation")
                .andExpect(content().string(containsString("we have to cancel your appointment on Wednesday 4 March")));
        UUID again = diary.appointment(
                clinic,
                referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow(),
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        clock.advance(Duration.ofHours(1));
        running.didNotAttend(clinic.id(), again, null);
        letter("/appointments/" + again + "/letters/missed")
                .andExpect(content().string(containsString("and we did not see you")));
        letter("/referrals/" + referral.id() + "/letters/closing_referrer")
                .andExpect(content().string(containsString("Appointments missed: 3 March 2026")));
    }

    @ParameterizedTest
    @CsvSource({"no_recall, 200, 409", "moved, 409, 409", "deceased, 409, 409", "usual, 200, 200"})
    void go_to_nobody_who_has_died_or_moved(String correspondence, int confirmation, int recallLetter)
            throws Exception {
        UUID id = diary.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30);
        Patient patient = patients.findAll().stream()
                .filter(one -> one.clinicId().equals(clinic.id()))
                .findFirst()
                .orElseThrow();
        correspond(patient, correspondence, "usual", 302);
        mvc.perform(get("/appointments/" + id + "/letters/confirmation").with(receptionist))
                .andExpect(status().is(confirmation));
        mvc.perform(get("/patients/" + patient.id() + "/letters/recall").with(receptionist))
                .andExpect(status().is(recallLetter));
        mvc.perform(get("/patients/" + patient.id()).with(receptionist)).andExpect(status().isOk());
    }

    @ParameterizedTest
    @CsvSource({"usual, 1", "no_recall, 0", "moved, 0", "deceased, 0"})
    void recalls_nobody_who_is_not_to_be_written_to(String correspondence, int due) throws Exception {
        finished(Method.MICROSUCTION, Ears.LEFT);
        Patient patient = patients.findAll().stream()
                .filter(one -> one.clinicId().equals(clinic.id()))
                .findFirst()
                .orElseThrow();
        correspond(patient, correspondence, "usual", 302);
        clock.set(Instant.parse("2026-12-01T12:00:00Z"));
        assertThat(recall.today(clinic.id())).hasSize(due);
    }

    @Test
    void recalls_nobody_who_was_referred_on_at_the_last_visit() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        press(
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.outcome", "not_removed"),
                practitioner,
                302);
        decide(id, "refer_on");
        clock.set(Instant.parse("2026-12-01T12:00:00Z"));
        assertThat(recall.today(clinic.id())).isEmpty();
        decide(id, "enough");
        assertThat(recall.today(clinic.id())).hasSize(1);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "gone", "DECEASED"})
    void refuses_an_unknown_way_of_corresponding(String code) throws Exception {
        Patient patient = diary.patient(clinic, "Testley", "Pat");
        correspond(patient, code, "usual", 400);
    }

    @Test
    void refuses_a_save_from_an_older_page_of_the_patient() throws Exception {
        Patient patient = diary.patient(clinic, "Testley", "Pat");
        correspond(patient, "moved", "usual", 302);
        correspond(patient, "no_recall", "usual", 409);
        correspond(patient, "no_recall", "moved", 302);
    }

    private void correspond(Patient patient, String code, String shown, int expected) throws Exception {
        press(
                post("/patients/" + patient.id() + "/correspondence")
                        .param("version", FormVersion.ofText(shown).text())
                        .param("correspondence", code),
                receptionist,
                expected);
    }

    /** A child, or a person who depends on others, was not brought: a clinician decides (common practice, no source). */
    @Test
    void a_person_who_was_not_brought_goes_to_a_clinician_from_the_first_time_on() throws Exception {
        Patient patient = diary.patient(clinic, "Testley", "Pat");
        patient.amend(withConsentBy(patient.details(), "daughter"));
        patients.save(patient);
        Referral referral =
                diary.referral(clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        UUID id = diary.appointment(
                clinic,
                referral,
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        clock.advance(Duration.ofHours(1));
        running.didNotAttend(clinic.id(), id, null);
        assertThat(missed.open(clinic.id())).singleElement().satisfies(one -> {
            assertThat(one.notBrought()).isTrue();
            assertThat(one.times()).isEqualTo(1);
        });
        mvc.perform(get("/referrals/missed").with(receptionist))
                .andExpect(content().string(containsString("Was not brought")))
                .andExpect(content().string(containsString("/letters/not_brought_referrer")))
                .andExpect(content().string(not(containsString("value=\"close\""))));
        letter("/appointments/" + id + "/letters/not_brought")
                .andExpect(content().string(containsString("To the parent or carer of Pat Testley")));
        MockHttpServletRequestBuilder close =
                post("/referrals/missed/" + id).param("decision", "close").param("note", "spoke to the daughter");
        press(close, receptionist, 409);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
        press(close, practitioner, 302);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.CLOSED);
        assertThat(missed.open(clinic.id())).isEmpty();
        press(close, practitioner, 409);
    }

    @Test
    void missed_twice_closing_is_proposed_and_book_again_takes_it_off_the_list() throws Exception {
        Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        UUID last = null;
        for (int hour : List.of(9, 10)) {
            last = diary.appointment(
                    clinic,
                    referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow(),
                    diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(hour, 0), 30));
            clock.set(Instant.parse("2026-03-03T" + (hour == 9 ? "09" : "10") + ":30:00Z"));
            running.didNotAttend(clinic.id(), last, null);
        }
        assertThat(missed.open(clinic.id())).hasSize(1);
        press(post("/referrals/missed/" + last).param("decision", "perhaps"), receptionist, 400);
        press(post("/referrals/missed/" + last).param("decision", "book_again"), receptionist, 302);
        assertThat(missed.open(clinic.id())).isEmpty();
        assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
    }

    /** The referral is closed by the visit: without a list nobody would notice that nothing follows. */
    @Test
    void an_ear_that_is_not_clear_is_listed_until_something_is_arranged() throws Exception {
        UUID id = finished(Method.MICROSUCTION, Ears.LEFT);
        press(
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.outcome", "residual"),
                practitioner,
                302);
        mvc.perform(get("/referrals/missed").with(receptionist))
                .andExpect(content().string(containsString("<strong>not decided</strong>")));
        decide(id, "come_again");
        mvc.perform(get("/referrals/missed").with(receptionist))
                .andExpect(content().string(containsString("to come again, no follow-up made")));
        press(post("/appointments/" + id + "/follow-up").param("method", "microsuction"), receptionist, 302);
        mvc.perform(get("/referrals/missed").with(receptionist))
                .andExpect(content().string(containsString("Nobody waits for a decision.")));
    }

    private ReferralStatus standing(Referral referral) {
        return referrals
                .findByClinicIdAndId(clinic.id(), referral.id())
                .orElseThrow()
                .status();
    }

    private static PatientDetails withConsentBy(PatientDetails known, String who) {
        return new PatientDetails(
                known.familyName(),
                known.givenName(),
                known.dateOfBirth(),
                known.contact(),
                known.postalAddress(),
                known.contactPerson(),
                known.contactPermission(),
                known.preferredRoute(),
                known.interpreter(),
                known.mobility(),
                who,
                known.comesWith(),
                known.hearingAid());
    }

    private int version(UUID appointment) {
        return appointments
                .findByClinicIdAndId(clinic.id(), appointment)
                .orElseThrow()
                .version();
    }

    /** NICE NG98 1.1.6: one-sided or pulsing tinnitus, considered for referral; it stops no visit. */
    @Test
    void tell_the_referrer_what_stops_no_visit_but_is_to_be_considered() throws Exception {
        Referral noted = diary.referral(
                clinic,
                DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null)
                        .with(new RedFlagAnswers(Map.of(RedFlag.ONE_SIDED_TINNITUS, Answer.YES), null)));
        UUID id = finished(noted);
        for (String page : List.of("/appointments/" + id, "/day/2026-03-03/sheet")) {
            letter(page).andExpect(content().string(containsString("consider referring on (NICE NG98 1.1.6)")));
        }
        press(
                post("/appointments/" + id + "/findings")
                        .with(diary.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "clear"),
                practitioner,
                302);
        String referrer = "/appointments/" + id + "/letters/referrer";
        toConsider(referrer);
        decide(id, "enough");
        toConsider(referrer);
        decide(id, "refer_on");
        letter(referrer)
                .andExpect(content().string(containsString("we refer the patient on")))
                .andExpect(content().string(containsString("Please consider whether to refer on")));
    }

    private void toConsider(String referrer) throws Exception {
        letter(referrer)
                .andExpect(content().string(containsString("hearing that comes and goes. Please consider whether")))
                .andExpect(content().string(containsString("Who acts now: you: please consider")))
                .andExpect(content().string(not(containsString("nothing further is planned"))))
                .andExpect(content().string(not(containsString("Nothing further is planned"))));
    }

    private ResultActions letter(String path) throws Exception {
        return mvc.perform(get(path).with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(not(containsString("??"))));
    }

    private void decide(UUID id, String step) throws Exception {
        press(post("/appointments/" + id + "/next-step").param("step", step), practitioner, 302);
    }

    private void press(MockHttpServletRequestBuilder form, RequestPostProcessor who, int expected) throws Exception {
        mvc.perform(form.with(who).with(csrf())).andExpect(status().is(expected));
    }

    private UUID finished(Method method, Ears ears) {
        return finished(diary.referral(clinic, method, ears));
    }

    private UUID finished(Referral referral) {
        UUID id = diary.appointment(
                clinic,
                referral,
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        running.record(clinic.id(), id, ClockEvent.ARRIVED);
        running.record(clinic.id(), id, ClockEvent.CALLED_IN);
        clock.advance(Duration.ofMinutes(20));
        running.record(clinic.id(), id, ClockEvent.FINISHED);
        return id;
    }
}
