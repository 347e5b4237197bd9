package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.MissedVisits;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.KitUnits;
import org.earslot.day.RunningDay;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.kit.KitLack;
import org.earslot.offers.SlotWish;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound;
import org.earslot.offers.WaitlistOffers;
import org.earslot.offers.WaitlistOffers.Fit;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
class GapPagesTest {

    private static final Instant MORNING = Instant.parse("2026-03-03T09:00:00Z");
    private static final LocalDate FAR = LocalDate.of(2026, 3, 18);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Booking booking;

    @Autowired
    private RunningDay running;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Referrals referrals;

    @Autowired
    private WaitlistOffers waitlistOffers;

    @Autowired
    private Slots slots;

    @Autowired
    private Kit kit;

    @Autowired
    private KitUnits units;

    @Autowired
    private MissedVisits missed;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void opensAClinic() {
        clock.set(MORNING);
        clinic = clinics.open();
    }

    @AfterEach
    void leavesTheClockAsItWas() {
        clock.set(MORNING);
    }

    @Test
    void offers_a_cancelled_place_to_those_who_wait_and_books_it() throws Exception {
        Referral waits = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NOT_KNOWN);
        UUID gap = cancelled(FAR);
        mvc.perform(get("/appointments/" + gap).with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("Offer this slot")));
        mvc.perform(get("/appointments/" + gap + "/gap").with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString(waits.id().toString())))
                .andExpect(content().string(not(containsString("Ask the patient first"))));
        Fit fit = waitlistOffers.fits(clinic.id(), gap).get(0);
        mvc.perform(post("/appointments")
                        .param("referral", fit.referral().id().toString())
                        .param(
                                "practitioner",
                                fit.offer().session().practitionerId().toString())
                        .param("room", fit.offer().session().roomId().toString())
                        .param("start", fit.offer().place().start().toString())
                        .param("slotMinutes", String.valueOf(fit.offer().slotMinutes()))
                        .with(SignedIn.receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(referrals
                        .findByClinicIdAndId(clinic.id(), fit.referral().id())
                        .orElseThrow()
                        .status())
                .isEqualTo(ReferralStatus.BOOKED);
    }

    @Test
    void a_slot_that_the_search_offers_is_one_that_the_gap_page_fills() throws Exception {
        UUID gap = cancelled(FAR);
        UUID gaveUp = appointments.findById(gap).orElseThrow().referralId().orElseThrow();
        SlotsFound found = slots.search(
                clinic.id(),
                new SlotWish(gaveUp, null, FAR, FAR, clinic.p1(), SlotWish.PartOfDay.ANY, Slots.MOST_OFFERS));
        assertThat(((SlotsFound.Offers) found).best()).isNotEmpty();
        assertThat(waitlistOffers.fits(clinic.id(), gap))
                .singleElement()
                .satisfies(fit -> assertThat(fit.gaveUp()).isTrue());
        mvc.perform(get("/appointments/" + gap + "/gap").with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("gave this slot up")));
    }

    @Test
    void puts_the_urgent_first_and_leaves_out_whom_the_place_does_not_fit() {
        Referral routine = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral urgent = waiting(Priority.URGENT, Method.MICROSUCTION, Answer.YES);
        Referral soon = waiting(Priority.SOON, Method.MICROSUCTION, Answer.YES);
        Referral forbidden = diary.referral(
                clinic, details(Priority.URGENT, Method.IRRIGATION, Answer.YES, null, Caution.PERFORATION));
        Referral softening =
                diary.referral(clinic, details(Priority.URGENT, Method.IRRIGATION, Answer.YES, FAR.plusDays(1)));
        List<UUID> fits = fits(cancelled(FAR));
        assertThat(fits).containsSubsequence(urgent.id(), soon.id(), routine.id());
        assertThat(fits).doesNotContain(forbidden.id(), softening.id());
    }

    @Test
    void asks_for_short_notice_only_where_it_is_short() {
        Referral cannot = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NO);
        Referral can = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral perhaps = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NOT_KNOWN);
        UUID tomorrow = cancelled(DiaryFixture.WEDNESDAY);
        assertThat(fits(tomorrow)).containsSubsequence(can.id(), perhaps.id()).doesNotContain(cannot.id());
        assertThat(waitlistOffers.fits(clinic.id(), tomorrow))
                .filteredOn(fit -> fit.referral().id().equals(perhaps.id()))
                .allMatch(Fit::askNotice);
        assertThat(fits(cancelled(FAR))).contains(cannot.id());
    }

    @Test
    void offers_nothing_that_the_practitioner_does_not_hold_nor_what_is_over() {
        waiting(Priority.ROUTINE, Method.IRRIGATION, Answer.YES);
        UUID atP2 = diary.appointment(
                clinic,
                diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH),
                diary.secondPlace(clinic, FAR.atTime(10, 0), 30));
        booking.cancel(clinic.id(), atP2, 0, CancelledBy.PATIENT, "holiday");
        assertThat(waitlistOffers.fits(clinic.id(), atP2))
                .noneMatch(fit -> fit.referral().details().request().methodPlanned() == Method.IRRIGATION);
        UUID gone = cancelled(FAR);
        clock.set(Instant.parse("2026-03-18T18:00:00Z"));
        assertThat(waitlistOffers.fits(clinic.id(), gone)).isEmpty();
        assertThat(waitlistOffers.fits(clinics.open().id(), gone)).isEmpty();
    }

    @Test
    void offers_it_to_one_booked_later_who_can_come_at_short_notice_and_moves_only_when_pressed() throws Exception {
        Referral later = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral unwilling = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NOT_KNOWN);
        Referral earlier = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        UUID booked = book(later, FAR.plusDays(5));
        book(unwilling, FAR.plusDays(6));
        book(earlier, FAR.minusDays(1));
        UUID gap = cancelled(FAR);
        assertThat(fits(gap)).contains(later.id()).doesNotContain(unwilling.id(), earlier.id());
        Fit fit = waitlistOffers.fits(clinic.id(), gap).stream()
                .filter(one -> one.referral().id().equals(later.id()))
                .findFirst()
                .orElseThrow();
        mvc.perform(get("/appointments/" + gap + "/gap").with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("booked later, Mon 23 Mar 10:00")))
                .andExpect(content().string(containsString("Ask the patient first")))
                .andExpect(content().string(containsString("/appointments/" + booked + "/move")));
        assertThat(appointments
                        .findByClinicIdAndId(clinic.id(), booked)
                        .orElseThrow()
                        .place()
                        .date())
                .isEqualTo(FAR.plusDays(5));
        mvc.perform(post("/appointments/" + booked + "/move")
                        .param("version", String.valueOf(fit.booked().version()))
                        .param(
                                "practitioner",
                                fit.offer().session().practitionerId().toString())
                        .param("room", fit.offer().session().roomId().toString())
                        .param("start", fit.offer().place().start().toString())
                        .param("slotMinutes", String.valueOf(fit.offer().slotMinutes()))
                        .with(SignedIn.receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(appointments
                        .findByClinicIdAndId(clinic.id(), booked)
                        .orElseThrow()
                        .place()
                        .date())
                .isEqualTo(FAR);
        assertThat(fits(gap)).doesNotContain(later.id());
    }

    @Test
    void puts_one_who_waits_before_one_booked_later_and_the_urgent_before_both() {
        Referral waits = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral later = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral urgent = waiting(Priority.URGENT, Method.MICROSUCTION, Answer.YES);
        book(later, FAR.plusDays(5));
        book(urgent, FAR.plusDays(6));
        assertThat(fits(cancelled(FAR))).containsSubsequence(urgent.id(), waits.id(), later.id());
    }

    @Test
    void leaves_out_one_booked_later_whom_a_caution_forbids_to_come_earlier() {
        Referral later = diary.referral(
                clinic,
                until(
                        Method.IRRIGATION,
                        Caution.MIDDLE_EAR_INFECTION,
                        FAR.plusDays(1).minusWeeks(6)));
        book(later, FAR.plusDays(5));
        assertThat(fits(cancelled(FAR))).doesNotContain(later.id());
        assertThat(fits(cancelled(FAR.plusDays(2)))).contains(later.id());
    }

    @Test
    void puts_last_whoever_would_lack_kit_says_so_and_leaves_them_out_on_the_day() throws Exception {
        Referral byHand = waiting(Priority.ROUTINE, Method.MANUAL_REMOVAL, Answer.YES);
        Referral bySuction = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NOT_KNOWN);
        assertThat(kit.kind(clinic.id(), "Tray", Method.MANUAL_REMOVAL, 0, 40, 10))
                .isEmpty();
        UUID gap = cancelled(FAR);
        assertThat(fits(gap)).containsSubsequence(bySuction.id(), byHand.id());
        mvc.perform(get("/appointments/" + gap + "/gap").with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("Kit: Tray would run short")));
        assertThat(fits(cancelled(DiaryFixture.WEDNESDAY.minusDays(1))))
                .contains(bySuction.id())
                .doesNotContain(byHand.id());
    }

    @Test
    void knows_a_room_without_its_unit_and_a_movable_one_that_is_elsewhere() {
        Referral waits = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        UUID gap = cancelled(FAR);
        assertThat(lacks(gap, waits)).isEmpty();
        kit.unit(clinic.id(), Optional.empty(), "Suction of R2", Method.MICROSUCTION, clinic.r2(), true);
        assertThat(lacks(gap, waits)).containsExactly(new KitLack.NoUnit(Method.MICROSUCTION));
        kit.unit(clinic.id(), Optional.empty(), "Suction on wheels", Method.MICROSUCTION, null, true);
        assertThat(lacks(gap, waits)).isEmpty();
        UUID ofR2 = units.findByClinicIdAndName(clinic.id(), "Suction of R2")
                .orElseThrow()
                .id();
        kit.unit(clinic.id(), Optional.of(ofR2), "Suction of R2", Method.MICROSUCTION, clinic.r2(), false);
        diary.appointment(
                clinic,
                diary.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                diary.secondPlace(clinic, FAR.atTime(9, 45), 90));
        assertThat(waitlistOffers.fits(clinic.id(), gap))
                .filteredOn(fit -> fit.referral().id().equals(waits.id()))
                .allSatisfy(fit -> {
                    assertThat(fit.lacks()).isEmpty();
                    LocalTime start = fit.offer().place().start().toLocalTime();
                    assertThat(start.plusMinutes(fit.offer().slotMinutes()).isAfter(LocalTime.of(9, 45))
                                    && start.isBefore(LocalTime.of(11, 15)))
                            .isFalse();
                });
    }

    @ParameterizedTest
    @CsvSource({"2, true", "3, false", "0, false", "1, true"})
    void proposes_to_close_a_referral_and_never_closes_it_by_itself(String limit, boolean proposed) throws Exception {
        mvc.perform(post("/setup/waiting-list")
                        .param("version", "2.2")
                        .param("didNotAttendLimit", limit)
                        .param("shortNoticeDays", "2")
                        .with(SignedIn.lead(clinic.id()))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        for (int missed = 0; missed < 2; missed++) {
            Referral again =
                    referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow();
            UUID id = diary.appointment(
                    clinic, again, diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10 + missed, 0), 30));
            clock.set(Instant.parse("2026-03-04T" + (10 + missed) + ":30:00Z"));
            running.didNotAttend(clinic.id(), id, null);
        }
        assertThat(referrals
                        .findByClinicIdAndId(clinic.id(), referral.id())
                        .orElseThrow()
                        .status()
                        .code())
                .isEqualTo("ready_to_book");
        assertThat(missed.open(clinic.id())).hasSize(proposed ? 1 : 0);
    }

    @ParameterizedTest
    @CsvSource({
        "didNotAttendLimit, 10",
        "didNotAttendLimit, -1",
        "didNotAttendLimit, ''",
        "shortNoticeDays, 29",
        "shortNoticeDays, two"
    })
    void refuses_rules_out_of_range(String field, String value) throws Exception {
        mvc.perform(post("/setup/waiting-list")
                        .param("version", "2.2")
                        .param("didNotAttendLimit", field.equals("didNotAttendLimit") ? value : "2")
                        .param("shortNoticeDays", field.equals("shortNoticeDays") ? value : "2")
                        .with(SignedIn.lead(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isBadRequest());
    }

    private List<UUID> fits(UUID gap) {
        return waitlistOffers.fits(clinic.id(), gap).stream()
                .map(fit -> fit.referral().id())
                .toList();
    }

    private List<KitLack> lacks(UUID gap, Referral referral) {
        return waitlistOffers.fits(clinic.id(), gap).stream()
                .filter(fit -> fit.referral().id().equals(referral.id()))
                .findFirst()
                .orElseThrow()
                .lacks();
    }

    private UUID book(Referral referral, LocalDate date) {
        return diary.appointment(clinic, referral, diary.place(clinic, date.atTime(10, 0), 30));
    }

    private static ReferralDetails until(Method method, Caution caution, LocalDate since) {
        ReferralDetails plain = details(Priority.ROUTINE, method, Answer.YES, null);
        return new ReferralDetails(
                new ReferralSource(null, plain.source().receivedOn(), Origin.REFERRAL),
                new VisitRequest(
                        null,
                        plain.request().priority(),
                        plain.request().ears(),
                        method,
                        plain.request().firstVisit(),
                        5,
                        null,
                        null,
                        null,
                        null,
                        Answer.YES),
                ReportedEars.UNKNOWN,
                new CautionAnswers(true, List.of(new AskedCaution(caution, null, since))),
                RedFlagAnswers.NOT_ASKED);
    }

    private UUID cancelled(LocalDate date) {
        UUID id = diary.appointment(clinic, date.atTime(10, 0), 45);
        booking.cancel(
                clinic.id(),
                id,
                appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow().version(),
                CancelledBy.PATIENT,
                "holiday");
        return id;
    }

    private Referral waiting(Priority priority, Method method, Answer shortNotice) {
        return diary.referral(clinic, details(priority, method, shortNotice, null));
    }

    private static ReferralDetails details(
            Priority priority, Method method, Answer shortNotice, LocalDate notBefore, Caution... cautions) {
        return new ReferralDetails(
                new ReferralSource(null, LocalDate.of(2026, 2, 20), Origin.REFERRAL),
                new VisitRequest(
                        null, priority, Ears.LEFT, method, Answer.YES, 5, notBefore, null, null, null, shortNotice),
                ReportedEars.UNKNOWN,
                new CautionAnswers(
                        true,
                        java.util.Arrays.stream(cautions)
                                .map(caution -> new AskedCaution(caution, null, null))
                                .toList()),
                RedFlagAnswers.NOT_ASKED);
    }
}
