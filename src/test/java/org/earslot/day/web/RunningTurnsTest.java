package org.earslot.day.web;

import static org.assertj.core.api.Assertions.assertThat;
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
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedules;
import org.earslot.day.DayWaits;
import org.earslot.day.LateCard;
import org.earslot.day.LateCard.Choice;
import org.earslot.day.LateCards;
import org.earslot.day.RunningDay;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlag;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** A list that does not run as booked: late, walked in, called in twice, told of a wait, and where the wait came from. */
@PageTest
class RunningTurnsTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);
    private static final String LIST = "/day/" + DAY + "/now";

    @Autowired
    private Referrals referrals;

    @Autowired
    private OpenRedFlags openRedFlags;

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Autowired
    private RunningDay running;

    @Autowired
    private DaySchedules diaries;

    @Autowired
    private LateCards cards;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor chair;
    private UUID first;
    private UUID second;
    private UUID third;
    private UUID fourth;

    @BeforeEach
    void four_in_a_row() {
        clock.set(at("08:30"));
        clinic = clinics.open();
        chair = practitioner(clinic.id(), clinic.p1());
        first = named("Ash", "09:00");
        second = named("Birch", "09:30");
        third = named("Cedar", "10:00");
        fourth = named("Dogwood", "10:30");
    }

    @Test
    void an_absent_patient_does_not_hold_the_chair() throws Exception {
        happens(second, ClockEvent.ARRIVED, "09:10");
        happens(third, ClockEvent.ARRIVED, "09:20");
        clock.set(at("09:25"));
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("Birch, Pat")))
                .andExpect(content().string(not(containsString("Ash, Pat"))));
        assertThat(line(second).expected().starts()).isBefore(LocalTime.of(9, 35));
    }

    @Test
    void the_late_card_says_what_each_way_costs_everyone() throws Exception {
        happens(second, ClockEvent.ARRIVED, "09:20");
        happens(third, ClockEvent.ARRIVED, "09:25");
        happens(first, ClockEvent.ARRIVED, "09:28");
        clock.set(at("09:29"));
        LateCard card = cards.ofLate(clinic.id(), first).orElseThrow();
        assertThat(card.initials()).isEqualTo("P.A.");
        Choice now = choice(card, LateCard.Turn.NOW);
        Choice afterNext = choice(card, LateCard.Turn.AFTER_NEXT);
        assertThat(now.starts()).isBefore(afterNext.starts());
        assertThat(now.delays()).extracting(LateCard.Delay::initials).startsWith("P.B.");
        assertThat(now.delays().get(0).minutes()).isGreaterThan(10);
        assertThat(afterNext.delays()).extracting(LateCard.Delay::initials).doesNotContain("P.B.");
        assertThat(now.addedWait()).isGreaterThan(afterNext.addedWait());
        assertThat(choice(card, LateCard.Turn.REBOOK).delays()).isEmpty();
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("Late: P.A., booked 09:00, arrived 09:28")))
                .andExpect(content().string(containsString("We can see you today, after one other patient")))
                .andExpect(content().string(containsString("/appointments/" + first + "/late-not-seen")))
                .andExpect(content().string(not(containsString("??"))));
    }

    @Test
    void a_turn_given_changes_who_is_next_and_the_projection() throws Exception {
        happens(second, ClockEvent.ARRIVED, "09:20");
        happens(third, ClockEvent.ARRIVED, "09:25");
        happens(first, ClockEvent.ARRIVED, "09:28");
        clock.set(at("09:29"));
        LocalTime before = line(second).expected().starts();
        turn(first, "after_next").andExpect(redirectedUrl(LIST + "?practitioner=" + clinic.p1()));
        assertThat(line(second).expected().starts()).isBefore(before);
        assertThat(line(first).expected().starts())
                .isAfter(line(second).expected().starts());
        assertThat(line(first).expected().starts())
                .isBefore(line(third).expected().starts());
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("Birch, Pat")))
                .andExpect(content().string(not(containsString("Late: P.A."))));
        turn(third, "now").andExpect(status().is3xxRedirection());
        mvc.perform(get(LIST).with(chair)).andExpect(content().string(containsString("Cedar, Pat")));
    }

    @Test
    void a_turn_is_for_one_who_is_here() throws Exception {
        turn(first, "now").andExpect(status().isConflict());
        turn(first, "sometime").andExpect(status().isNotFound());
        turn(first, "rebook").andExpect(status().isNotFound());
        mvc.perform(post("/appointments/" + first + "/turn")
                        .param("turn", "now")
                        .with(csrf())
                        .with(lead(clinics.open().id())))
                .andExpect(status().isNotFound());
    }

    @Test
    void a_walk_in_is_fitted_in_by_two_presses_and_needs_a_reason_or_a_referral() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        happens(second, ClockEvent.ARRIVED, "09:20");
        clock.set(at("09:15"));
        clock.set(at("09:22"));
        Patient walkIn = fixture.patient(clinic, "Elder", "Pat");
        fitIn("", walkIn, "").andExpect(status().isBadRequest());
        fitIn("/card", walkIn, "").andExpect(status().isBadRequest());
        Referral referral = fixture.referral(
                clinic, walkIn, DiaryFixture.details(Method.MICROSUCTION, Ears.RIGHT, null, null, null));
        fitIn("/card", walkIn, "").andExpect(status().isOk());
        fitIn("/card", walkIn, "hearing aid blocked")
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("<title>Walk-in as a fit-in · Earslot</title>")))
                .andExpect(content().string(containsString("Walk-in as a fit-in: P.E.")))
                .andExpect(content().string(containsString("P.B.")))
                .andExpect(content().string(containsString("min later")))
                .andExpect(content().string(containsString("name=\"fitInReason\" value=\"hearing aid blocked\"")))
                .andExpect(content().string(not(containsString("??"))));
        assertThat(appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), walkIn.id()))
                .isEmpty();
        fitIn("/seat", walkIn, "hearing aid blocked").andExpect(redirectedUrl(LIST + "?practitioner=" + clinic.p1()));
        List<Appointment> booked = appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), walkIn.id());
        assertThat(booked).hasSize(1);
        assertThat(booked.get(0).fitIn()).isTrue();
        assertThat(booked.get(0).holdsPlace()).isFalse();
        assertThat(booked.get(0).fitInReason()).contains("hearing aid blocked");
        assertThat(booked.get(0).status()).isEqualTo(AppointmentStatus.CHECKED_IN);
        assertThat(booked.get(0).referralId()).contains(referral.id());
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("P.E.")))
                .andExpect(content().string(not(containsString("Fit-in: P.E."))));
        fitIn("/seat", walkIn, "hearing aid blocked").andExpect(status().isBadRequest());
    }

    @Test
    void a_walk_in_without_a_referral_is_asked_and_gets_one() throws Exception {
        clock.set(at("09:22"));
        Patient walkIn = fixture.patient(clinic, "Elder", "Pat");
        RequestPostProcessor desk = receptionist(clinic.id());
        MockHttpServletRequestBuilder asked =
                seat(walkIn, "hearing aid blocked").with(desk);
        mvc.perform(asked)
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("an answer to each question")))
                .andExpect(content().string(containsString("either a tick at")));
        mvc.perform(seat(walkIn, "hearing aid blocked")
                        .param("noneFlagged", "yes")
                        .param("caution.perforation", "yes")
                        .with(desk))
                .andExpect(status().is3xxRedirection());
        Appointment booked = appointments
                .findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), walkIn.id())
                .get(0);
        ReferralDetails said = referrals
                .findByClinicIdAndId(clinic.id(), booked.referralId().orElseThrow())
                .orElseThrow()
                .details();
        assertThat(said.redFlags().allNo()).isTrue();
        assertThat(said.cautions().yes())
                .singleElement()
                .satisfies(one -> assertThat(one.caution()).isEqualTo(Caution.PERFORATION));
    }

    @Test
    void pain_is_a_clinicians_first_and_not_fitted_in_for_wax() throws Exception {
        clock.set(at("09:22"));
        Patient walkIn = fixture.patient(clinic, "Elder", "Pat");
        RequestPostProcessor desk = receptionist(clinic.id());
        mvc.perform(seat(walkIn, "in pain")
                        .param("noneFlagged", "yes")
                        .param("cautionsAsked", "yes")
                        .with(desk))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("Tell a clinician now")));
        assertThat(appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), walkIn.id()))
                .isEmpty();
        assertThat(openRedFlags.of(clinic.id(), walkIn.id()))
                .singleElement()
                .satisfies(one -> assertThat(one.flags()).containsExactly(RedFlag.PAIN_OR_DISCHARGE));
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("Red flag, P.E.:")))
                .andExpect(content().string(containsString("by the end of today")));
    }

    private MockHttpServletRequestBuilder seat(Patient patient, String reason) {
        String session = diaries.of(clinic.id(), DAY)
                .lane(clinic.p1())
                .orElseThrow()
                .sessions()
                .get(0)
                .held()
                .key();
        return post("/day/" + DAY + "/fit-in/seat")
                .param("fitInPatient", patient.localNumber())
                .param("fitInReason", reason)
                .param("fitInMethod", "microsuction")
                .param("fitInEars", "left")
                .param("fitInSession", session)
                .param("turn", "now")
                .with(csrf());
    }

    @Test
    void one_who_is_outside_is_called_in_twice_while_the_chair_goes_on() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        happens(second, ClockEvent.ARRIVED, "09:20");
        clock.set(at("09:26"));
        press(first, "call-in-again").andExpect(status().isConflict());
        press(first, "step-out").andExpect(status().is3xxRedirection());
        mvc.perform(get(LIST).with(chair))
                .andExpect(
                        content().string(containsString("in the waiting room since 09:26; call in again from 09:41")))
                .andExpect(content().string(containsString("/appointments/" + second + "/call-in")));
        assertThat(line(second).expected().starts()).isBefore(LocalTime.of(9, 31));
        assertThat(line(first).expected().finishes()).isAfter(LocalTime.of(9, 41));
        clock.set(at("09:42"));
        press(first, "call-in-again").andExpect(status().is3xxRedirection());
        mvc.perform(get(LIST).with(chair)).andExpect(content().string(containsString("called in again")));
        happens(first, ClockEvent.FINISHED, "09:50");
        assertThat(visits.findById(appointment(first).visitId().orElseThrow())
                        .orElseThrow()
                        .timeInRoom())
                .contains(Duration.ofMinutes(50 - 16));
        assertThat(line(first).progress()).isEqualTo(DaySchedule.Progress.FINISHED);
    }

    @Test
    void a_visit_in_progress_is_conditioned_on_its_elapsed_minutes() {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        clock.set(at("09:01"));
        LocalTime early = line(first).expected().finishes();
        clock.set(at("09:55"));
        LocalTime late = line(first).expected().finishes();
        assertThat(early).isBefore(LocalTime.of(9, 40));
        assertThat(late).isAfter(LocalTime.of(9, 55));
        assertThat(line(second).expected().starts()).isAfter(LocalTime.of(9, 55));
    }

    @Test
    void reception_sees_whom_to_tell_and_records_that_they_were_told() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        happens(second, ClockEvent.ARRIVED, "09:25");
        clock.set(at("09:50"));
        assertThat(line(second).waitMinutes()).isGreaterThan(15);
        RequestPostProcessor desk = receptionist(clinic.id());
        mvc.perform(get("/day/" + DAY).with(desk))
                .andExpect(content().string(containsString("Patients to tell: expected wait over 15 min")))
                .andExpect(content().string(containsString("in the waiting room: say it there")))
                .andExpect(content().string(containsString("by phone")))
                .andExpect(content().string(containsString("/appointments/" + second + "/told")))
                .andExpect(content().string(not(containsString("??"))));
        mvc.perform(post("/appointments/" + second + "/told").with(csrf()).with(desk))
                .andExpect(redirectedUrl("/day/" + DAY));
        mvc.perform(get("/day/" + DAY).with(desk))
                .andExpect(content().string(not(containsString("/appointments/" + second + "/told"))))
                .andExpect(content().string(containsString("told 09:50: ")));
        clock.set(at("10:10"));
        mvc.perform(get("/day/" + DAY).with(desk))
                .andExpect(content().string(containsString("/appointments/" + second + "/told")));
        mvc.perform(post("/appointments/" + first + "/told").with(csrf()).with(desk))
                .andExpect(status().isConflict());
    }

    @Test
    void the_day_says_where_its_wait_came_from() throws Exception {
        visit(first, "08:55", "09:00", "09:46", "09:50");
        visit(second, "09:25", "09:50", "10:08", "10:10");
        visit(third, "09:55", "10:10", "10:24", "10:26");
        clock.set(at("17:30"));
        List<DayWaits> waits = DayWaits.of(diaries.of(clinic.id(), DAY));
        assertThat(waits).hasSize(1);
        assertThat(waits.get(0).waitMinutes()).isEqualTo(30);
        assertThat(waits.get(0).sources().stream()
                        .mapToDouble(DayWaits.OfSource::minutes)
                        .sum())
                .isEqualTo(30);
        assertThat(waits.get(0).sources().get(0).start()).isEqualTo(LocalTime.of(9, 0));
        mvc.perform(get("/day/" + DAY).with(receptionist(clinic.id())))
                .andExpect(content().string(containsString("Where the wait came from")))
                .andExpect(content().string(containsString("2 patients waited, 30 min in total")))
                .andExpect(content().string(containsString("the visit of 09:00, P.A.")))
                .andExpect(content().string(not(containsString("??"))));
    }

    @Test
    void findings_are_recorded_in_taps_and_given_as_a_note() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("name=\"right.outcome\" value=\"residual\"")))
                .andExpect(content().string(containsString("right ear: as expected")));
        mvc.perform(post("/appointments/" + first + "/findings")
                        .with(fixture.justOpened())
                        .param("back", "now")
                        .param("right.outcome", "clear")
                        .param("right.method1", "microsuction")
                        .param("right.method2", "manual_removal")
                        .param("right.wax", "hard")
                        .param("left.outcome", "residual")
                        .param("left.method1", "microsuction")
                        .param("left.adverseEvent", "dizziness")
                        .param("stoppedEarly", "comfort")
                        .param("note", "softener for the left")
                        .with(csrf())
                        .with(chair))
                .andExpect(redirectedUrl(LIST + "?practitioner=" + clinic.p1()));
        happens(first, ClockEvent.FINISHED, "09:24");
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("Copy note")))
                .andExpect(content()
                        .string(containsString(
                                "Right ear: microsuction, manual removal; found hard wax; outcome: clear.")))
                .andExpect(content()
                        .string(containsString(
                                "Left ear: microsuction; outcome: residual wax; adverse event: dizziness.")))
                .andExpect(content().string(containsString("Stopped early: ")))
                .andExpect(content().string(containsString("Called in 09:00, finished 09:24.")))
                .andExpect(content().string(containsString("softener for the left")))
                .andExpect(content().string(not(containsString("??"))));
    }

    private ResultActions fitIn(String step, Patient patient, String reason) throws Exception {
        String session = diaries.of(clinic.id(), DAY)
                .lane(clinic.p1())
                .orElseThrow()
                .sessions()
                .get(0)
                .held()
                .key();
        return mvc.perform(post("/day/" + DAY + "/fit-in" + step)
                .param("fitInPatient", patient.localNumber())
                .param("fitInReason", reason)
                .param("fitInSession", session)
                .param("turn", "now")
                .param("noneFlagged", "yes")
                .param("cautionsAsked", "yes")
                .with(csrf())
                .with(chair));
    }

    private ResultActions turn(UUID id, String turn) throws Exception {
        return mvc.perform(post("/appointments/" + id + "/turn")
                .param("turn", turn)
                .param("back", "now")
                .with(csrf())
                .with(chair));
    }

    private ResultActions press(UUID id, String what) throws Exception {
        return mvc.perform(post("/appointments/" + id + "/" + what)
                .param("back", "now")
                .with(csrf())
                .with(chair));
    }

    private static Choice choice(LateCard card, LateCard.Turn turn) {
        return card.choices().stream()
                .filter(each -> each.turn() == turn)
                .findFirst()
                .orElseThrow();
    }

    private UUID named(String family, String start) {
        Patient patient = fixture.patient(clinic, family, "Pat");
        Referral referral = fixture.referral(
                clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        return fixture.appointment(clinic, referral, fixture.place(clinic, DAY.atTime(LocalTime.parse(start)), 30));
    }

    private void visit(UUID id, String arrived, String calledIn, String finished, String ready) {
        happens(id, ClockEvent.ARRIVED, arrived);
        happens(id, ClockEvent.CALLED_IN, calledIn);
        happens(id, ClockEvent.FINISHED, finished);
        happens(id, ClockEvent.ROOM_READY, ready);
    }

    private void happens(UUID id, ClockEvent event, String time) {
        clock.set(at(time));
        assertThat(running.record(clinic.id(), id, event)).isInstanceOf(BookingResult.Done.class);
    }

    private Line line(UUID id) {
        return diaries.of(clinic.id(), DAY)
                .lines()
                .filter(each -> each.id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    private Appointment appointment(UUID id) {
        return appointments.findById(id).orElseThrow();
    }

    private static Instant at(String time) {
        return DAY.atTime(LocalTime.parse(time))
                .atZone(ZoneId.of("Europe/London"))
                .toInstant();
    }
}
