package org.earslot.booking.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.PATIENT_DECEASED;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
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
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfOtherVisit;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Sessions;
import org.earslot.day.ClockEvent;
import org.earslot.day.FitIns;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.DayFix;
import org.earslot.offers.Move;
import org.earslot.offers.Rescheduling;
import org.earslot.offers.SlotWish;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.WaitlistOffers;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientCorrespondence;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.hamcrest.Matcher;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Every door by which a patient could get a visit, for one who is recorded as deceased. Letters and recall: see there. */
@PageTest
class DeceasedDoorsTest {

    private static final Instant TUESDAY = Instant.parse("2026-03-03T09:00:00Z");
    private static final LocalDateTime TEN = WEDNESDAY.atTime(10, 0);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private PatientCorrespondence correspondence;

    @Autowired
    private Booking booking;

    @Autowired
    private Rescheduling rescheduling;

    @Autowired
    private RunningDay running;

    @Autowired
    private Slots slots;

    @Autowired
    private WaitlistOffers waitlistOffers;

    @Autowired
    private Appointments appointments;

    @Autowired
    private OtherVisitKinds kinds;

    @Autowired
    private Sessions sessions;

    @Autowired
    private Referrals referrals;

    @Autowired
    private FitIns fitIns;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private Patient patient;
    private Referral referral;

    @BeforeEach
    void one_who_waits() {
        clock.set(TUESDAY);
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        patient = fixture.patient(clinic, "Quenderby", "Pat");
        referral = referral();
    }

    @AfterEach
    void leaves_the_clock_as_it_was() {
        clock.set(TUESDAY);
    }

    @Test
    void is_offered_and_booked_nothing_until_the_record_is_corrected() throws Exception {
        dies();
        assertThat(slots.search(clinic.id(), SlotWish.of(referral.id())))
                .isInstanceOfSatisfying(
                        NotLooked.class,
                        no -> assertThat(no.refusals()).containsExactly(BookingRefusal.of(PATIENT_DECEASED)));
        refused(booking.book(clinic.id(), new OfReferral(referral.id(), fixture.place(clinic, TEN, 30)), "r"));
        UUID kind = kinds.save(new OtherVisitKind(UUID.randomUUID(), clinic.id(), "impression", 20))
                .id();
        refused(booking.book(clinic.id(), new OfOtherVisit(patient.id(), kind, fixture.place(clinic, TEN, 20)), "r"));
        mvc.perform(get("/slots").param("referral", referral.id().toString()).with(receptionist))
                .andExpect(content().string(containsString("This patient is recorded as deceased.")));
        correspondence.record(clinic.id(), patient.id(), Correspondence.USUAL);
        assertThat(booking.book(clinic.id(), new OfReferral(referral.id(), fixture.place(clinic, TEN, 30)), "r"))
                .isInstanceOf(BookingResult.Done.class);
    }

    @Test
    void is_refused_to_a_program_by_code() throws Exception {
        dies();
        String session = session(WEDNESDAY);
        mvc.perform(post("/api/v1/appointments")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("""
                                {"referral":"%s","session":"%s","start":"%s","slotMinutes":30,"shorter":true}""".formatted(referral.id(), session, TEN)))
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("patient-deceased"));
        mvc.perform(get("/api/v1/slots")
                        .param("referral", referral.id().toString())
                        .with(SignedIn.program(clinic.id())))
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("patient-deceased"));
    }

    /** The page asks first and shows where to correct the record; what was typed is in the form. */
    @Test
    void a_new_referral_is_taken_in_only_after_a_person_has_confirmed_it() throws Exception {
        dies();
        MockHttpServletRequestBuilder typed = post("/referrals")
                .param("localNumber", patient.localNumber())
                .param("receivedOn", "2026-03-03")
                .param("priority", "routine")
                .param("ears", "left")
                .param("method", "microsuction")
                .param("firstVisit", "no")
                .param("noneFlagged", "yes")
                .param("reason", "hearing aid blocked")
                .with(receptionist)
                .with(csrf());
        String answer = mvc.perform(typed)
                .andExpect(status().isConflict())
                .andReturn()
                .getResponse()
                .getContentAsString();
        Document asked = Jsoup.parse(answer);
        assertThat(asked.select("[role=alert]").text()).contains("is recorded as deceased. Nothing was saved yet.");
        assertThat(asked.select("[role=alert] a").attr("href")).isEqualTo("/patients/" + patient.id());
        assertThat(asked.select("[name=reason]").val()).isEqualTo("hearing aid blocked");
        assertThat(referrals()).isEqualTo(1);
        mvc.perform(typed.param("thoughDeceased", "yes")).andExpect(status().is3xxRedirection());
        assertThat(referrals()).isEqualTo(2);
        mvc.perform(get("/referrals/" + referral.id()).with(receptionist))
                .andExpect(
                        content().string(containsString("This patient is recorded as deceased: nothing is booked.")));
        correspondence.record(clinic.id(), patient.id(), Correspondence.USUAL);
        mvc.perform(get("/referrals/" + referral.id()).with(receptionist))
                .andExpect(content().string(not(containsString("recorded as deceased"))));
    }

    @Test
    void a_referral_sent_by_a_program_is_refused() throws Exception {
        dies();
        String body = """
                {"patientRef":"%s","receivedOn":"2026-03-03","priority":"routine","ears":["left"],"method":"microsuction"}""".formatted(patient.localNumber());
        mvc.perform(post("/api/v1/referrals")
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(body)
                        .with(SignedIn.program(clinic.id())))
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("patient-deceased"));
        assertThat(referrals()).isEqualTo(1);
        correspondence.record(clinic.id(), patient.id(), Correspondence.USUAL);
        mvc.perform(post("/api/v1/referrals")
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(body)
                        .with(SignedIn.program(clinic.id())))
                .andExpect(status().isCreated());
    }

    @Test
    void is_not_called_in_without_check_in() throws Exception {
        UUID id = fixture.appointment(
                clinic, referral, fixture.place(clinic, WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        dies();
        mvc.perform(post("/appointments/" + id + "/call-in")
                        .with(SignedIn.practitioner(clinic.id(), clinic.p1()))
                        .with(csrf()))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("This patient is recorded as deceased.")));
        refused(running.record(clinic.id(), id, ClockEvent.CALLED_IN));
        assertThat(appointment(id).times().calledIn()).isNull();
        correspondence.record(clinic.id(), patient.id(), Correspondence.USUAL);
        assertThat(running.record(clinic.id(), id, ClockEvent.CALLED_IN)).isInstanceOf(Done.class);
    }

    private int referrals() {
        return referrals.ofPatient(clinic.id(), patient.id()).size();
    }

    @Test
    void is_not_fitted_in() throws Exception {
        dies();
        mvc.perform(post("/day/" + TUESDAY.toString().substring(0, 10) + "/fit-in/card")
                        .param("fitInSession", session(WEDNESDAY.minusDays(1)))
                        .param("fitInPatient", patient.localNumber())
                        .param("fitInReason", "hearing aid blocked")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("This patient is recorded as deceased.")));
        refused(fitIns.fitIn(
                clinic.id(),
                new OfFitIn(
                        null,
                        patient.id(),
                        Method.MICROSUCTION,
                        Ears.LEFT,
                        "hearing aid blocked",
                        fixture.place(clinic, WEDNESDAY.minusDays(1).atTime(9, 0), 1)),
                new RedFlagAnswers(RedFlag.noneOfThese(), null),
                List.of(),
                null,
                "r"));
        assertThat(referrals()).as("no referral is left behind").isEqualTo(1);
    }

    @Test
    void is_not_put_on_the_waiting_list_but_the_referral_can_be_closed() throws Exception {
        dies();
        mvc.perform(post("/referrals/" + referral.id() + "/waiting")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("not put on the waiting list")));
        mvc.perform(post("/referrals/" + referral.id() + "/closed")
                        .param("reason", "died")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
    }

    @Test
    void is_offered_no_place_that_came_free_neither_waiting_nor_booked_later() {
        Patient later = fixture.patient(clinic, "Laterby", "Pat");
        Referral booked =
                fixture.referral(clinic, later, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        fixture.appointment(clinic, booked, fixture.place(clinic, TEN.plusWeeks(4), 30));
        UUID gone = fixture.appointment(clinic, TEN.plusWeeks(2), 30);
        booking.cancel(clinic.id(), gone, 0, CancelledBy.PATIENT, "away");
        assertThat(offered(gone)).contains(referral.id());
        dies();
        correspondence.record(clinic.id(), later.id(), Correspondence.DECEASED);
        assertThat(offered(gone)).doesNotContain(referral.id(), booked.id());
    }

    @Test
    void is_not_moved_nor_moved_along_nor_checked_in() throws Exception {
        UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, TEN, 30));
        dies();
        int version = appointment(id).version();
        refused(booking.move(clinic.id(), id, version, fixture.place(clinic, TEN.plusHours(1), 30)));
        refused(rescheduling.apply(
                clinic.id(),
                WEDNESDAY,
                DayFix.RETIME,
                List.of(new Move(id, version, fixture.place(clinic, TEN.plusHours(1), 30), true)),
                "r"));
        assertThat(slots.search(clinic.id(), new SlotWish(null, id, null, null, null, SlotWish.PartOfDay.ANY, 5)))
                .isInstanceOf(NotLooked.class);
        clock.set(Instant.parse("2026-03-04T09:55:00Z"));
        mvc.perform(post("/appointments/" + id + "/check-in")
                        .param("nothingNew", "yes")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isConflict());
        assertThat(appointment(id).times().arrived()).isNull();
    }

    @Test
    void gets_no_follow_up() throws Exception {
        RequestPostProcessor practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        UUID id = fixture.appointment(
                clinic, referral, fixture.place(clinic, WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        for (ClockEvent event : List.of(ClockEvent.ARRIVED, ClockEvent.CALLED_IN, ClockEvent.FINISHED)) {
            clock.advance(Duration.ofMinutes(5));
            running.record(clinic.id(), id, event);
        }
        mvc.perform(post("/appointments/" + id + "/findings")
                        .with(fixture.justOpened())
                        .param("left.method1", "microsuction")
                        .param("left.outcome", "residual")
                        .param("nextStep", "come_again")
                        .with(practitioner)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content().string(containsString("/appointments/" + id + "/follow-up")));
        dies();
        mvc.perform(get("/appointments/" + id).with(practitioner))
                .andExpect(content().string(containsString("recorded as deceased, so no follow-up is made")))
                .andExpect(content().string(not(containsString("/appointments/" + id + "/follow-up"))));
        mvc.perform(post("/appointments/" + id + "/follow-up")
                        .param("method", "microsuction")
                        .param("softenerDays", "0")
                        .with(practitioner)
                        .with(csrf()))
                .andExpect(status().isConflict());
    }

    @Test
    void future_visits_are_shown_to_be_cancelled_by_hand_until_they_are() throws Exception {
        UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, TEN.plusWeeks(1), 30));
        day(not(containsString("To cancel: patients recorded as deceased")));
        dies();
        for (RequestPostProcessor who : List.of(receptionist, SignedIn.lead(clinic.id()))) {
            mvc.perform(get("/day/2026-03-03").with(who))
                    .andExpect(content().string(containsString("To cancel: patients recorded as deceased")))
                    .andExpect(content().string(containsString("Wed 11 Mar 10:00, Quenderby, Pat")))
                    .andExpect(content().string(containsString("/appointments/" + id + "#cancel")));
            mvc.perform(get("/patients/" + patient.id()).with(who))
                    .andExpect(content().string(containsString("Wed 11 Mar 2026, 10:00")))
                    .andExpect(content().string(containsString("Cancel each by hand")));
        }
        booking.cancel(clinic.id(), id, appointment(id).version(), CancelledBy.CLINIC, "has died");
        day(not(containsString("To cancel: patients recorded as deceased")));
        mvc.perform(get("/appointments/" + id + "/letters/cancellation").with(receptionist))
                .andExpect(status().isConflict());
    }

    private void day(Matcher<String> shows) throws Exception {
        mvc.perform(get("/day/2026-03-03").with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(shows));
    }

    private List<UUID> offered(UUID gone) {
        return waitlistOffers.fits(clinic.id(), gone).stream()
                .map(fit -> fit.referral().id())
                .toList();
    }

    private void dies() {
        assertThat(correspondence.record(clinic.id(), patient.id(), Correspondence.DECEASED))
                .isTrue();
    }

    private static void refused(BookingResult result) {
        assertThat(((NotDone) result).only(PATIENT_DECEASED)).isTrue();
    }

    private Referral referral() {
        return fixture.referral(
                clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null));
    }

    private String session(LocalDate date) {
        return sessions.on(clinic.id(), date).stream()
                .filter(one -> one.practitionerId().equals(clinic.p1()))
                .findFirst()
                .orElseThrow()
                .key();
    }

    private Appointment appointment(UUID id) {
        return appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow();
    }
}
