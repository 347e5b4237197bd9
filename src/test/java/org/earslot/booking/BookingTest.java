package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.CLOCKS_CHANGE;
import static org.earslot.booking.BookingRefusalCode.IN_THE_PAST;
import static org.earslot.booking.BookingRefusalCode.OUTSIDE_SESSION;
import static org.earslot.booking.BookingRefusalCode.RED_FLAGS_NOT_ASKED;
import static org.earslot.booking.BookingRefusalCode.SLOT_TAKEN;
import static org.earslot.booking.BookingRefusalCode.TIME_NOT_OF_THE_DAY;
import static org.earslot.booking.BookingRefusalCode.TOO_FAR_AHEAD;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.clinic.SessionException;
import org.earslot.clinic.SessionExceptions;
import org.earslot.clinic.TimeSpan;
import org.earslot.day.ClockEvent;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedules;
import org.earslot.day.RunningDay;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotWish;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** Booking, finding a slot, moving, calling off and running, with referral and visit log kept in step. */
class BookingTest {

    abstract static class Desk {
        @Autowired
        private Booking booking;

        @Autowired
        private RunningDay running;

        @Autowired
        private Slots slots;

        @Autowired
        private DaySchedules diaries;

        @Autowired
        private Appointments appointments;

        @Autowired
        private Referrals referrals;

        @Autowired
        private Visits visits;

        @Autowired
        private SessionExceptions exceptions;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private SettableClock clock;

        private TestClinic clinic;

        @BeforeEach
        void tuesday_nine_o_clock() {
            clock.set(Instant.parse("2026-03-03T09:00:00Z"));
            clinic = clinics.open();
        }

        @Test
        void booking_keeps_the_estimate_and_moves_the_referral_on() {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            Appointment appointment = appointments.findById(id).orElseThrow();
            assertThat(appointment.planned().estimate()).contains("\"inRoom\"");
            assertThat(appointment.place().start()).isEqualTo(Instant.parse("2026-03-04T10:00:00Z"));
            assertThat(standing(referral)).isEqualTo(ReferralStatus.BOOKED);
        }

        @Test
        void each_rule_of_a_place_has_its_own_refusal() {
            assertThat(refusal(WEDNESDAY.atTime(10, 2), 30)).isEqualTo(BookingRefusal.offGrid("start", "10:02", 5));
            assertThat(refusal(WEDNESDAY.atTime(10, 0), 33)).isEqualTo(BookingRefusal.offGrid("slotMinutes", "33", 5));
            assertThat(refusal(WEDNESDAY.atTime(10, 0), 5)).isEqualTo(BookingRefusal.slotLengthOutOfRange(5, 10, 90));
            assertThat(refusal(WEDNESDAY.atTime(10, 0), 95)).isEqualTo(BookingRefusal.slotLengthOutOfRange(95, 10, 90));
            assertThat(refusal(WEDNESDAY.atTime(12, 45), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(OUTSIDE_SESSION);
            assertThat(refusal(WEDNESDAY.atTime(8, 45), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(OUTSIDE_SESSION);
            assertThat(refusal(WEDNESDAY.atTime(16, 45), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(OUTSIDE_SESSION);
            assertThat(refusal(WEDNESDAY.atTime(23, 50), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(OUTSIDE_SESSION);
            assertThat(refusal(LocalDate.of(2026, 3, 7).atTime(10, 0), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(OUTSIDE_SESSION);
            assertThat(refusal(LocalDate.of(2026, 3, 2).atTime(10, 0), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(IN_THE_PAST);
            assertThat(refusal(LocalDate.of(2027, 3, 4).atTime(10, 0), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(TOO_FAR_AHEAD);
            assertThat(refusal(LocalDate.of(9999, 3, 4).atTime(10, 0), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(TOO_FAR_AHEAD);
        }

        @Test
        void every_problem_is_reported_at_once() {
            Referral referral = fixture.referral(clinic, Method.MANUAL_REMOVAL, Ears.BOTH);
            BookingResult result = booking.book(
                    clinic.id(),
                    new OfReferral(referral.id(), fixture.secondPlace(clinic, WEDNESDAY.atTime(10, 2), 33)),
                    "r");
            assertThat(((NotDone) result).refusals())
                    .hasSize(3)
                    .contains(
                            BookingRefusal.methodNotHeld(Method.MANUAL_REMOVAL),
                            BookingRefusal.offGrid("start", "10:02", 5));
        }

        @Test
        void room_counts_as_well_as_practitioner() {
            fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            exceptions.save(SessionException.extra(
                    UUID.randomUUID(),
                    clinic.id(),
                    WEDNESDAY,
                    clinic.p2(),
                    clinic.r1(),
                    new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 0)),
                    null,
                    "room 2 is painted"));
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
            AskedPlace place = new AskedPlace(clinic.p2(), clinic.r1(), WEDNESDAY.atTime(10, 20), 20);
            assertThat(booking.book(clinic.id(), new OfReferral(referral.id(), place), "r"))
                    .isEqualTo(BookingResult.refused(SLOT_TAKEN));
        }

        @Test
        void referral_that_is_not_ready_or_not_yet_softened_is_refused() {
            Referral red = fixture.referral(
                    clinic, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, "sudden loss"));
            assertThat(book(red, WEDNESDAY.atTime(10, 0))).isEqualTo(BookingResult.refused(RED_FLAGS_NOT_ASKED));
            Referral early = fixture.referral(
                    clinic, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, WEDNESDAY.plusDays(1), null, null));
            assertThat(book(early, WEDNESDAY.atTime(10, 0)))
                    .isEqualTo(BookingResult.refused(BookingRefusal.softenerNotOver(WEDNESDAY.plusDays(1))));
        }

        @Test
        void contraindicated_method_is_refused_on_the_date_of_the_appointment() {
            ReferralDetails said = DiaryFixture.details(Method.IRRIGATION, Ears.BOTH, null, null, null);
            Referral referral = fixture.referral(clinic, withCaution(said, Caution.PERFORATION));
            assertThat(book(referral, WEDNESDAY.atTime(10, 0)))
                    .isEqualTo(
                            BookingResult.refused(BookingRefusal.methodContraindicated(Method.IRRIGATION, WEDNESDAY)));
            assertThat(offers(SlotWish.of(referral.id())).best()).isEmpty();
        }

        @Test
        void nothing_of_another_clinic_is_reached() {
            TestClinic other = clinics.open();
            UUID theirs = fixture.appointment(other, WEDNESDAY.atTime(10, 0), 30);
            assertThat(booking.move(clinic.id(), theirs, 0, fixture.place(clinic, WEDNESDAY.atTime(11, 0), 30)))
                    .isEqualTo(BookingResult.refused(BookingRefusal.unknown("appointment")));
            assertThat(running.record(clinic.id(), theirs, ClockEvent.ARRIVED))
                    .isEqualTo(BookingResult.refused(BookingRefusal.unknown("appointment")));
            Referral referral = fixture.referral(other, Method.MICROSUCTION, Ears.BOTH);
            assertThat(((NotDone) book(referral, WEDNESDAY.atTime(11, 0))).refusals())
                    .contains(BookingRefusal.unknown("referral"));
            Referral mine = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            AskedPlace foreign = new AskedPlace(other.p1(), other.r1(), WEDNESDAY.atTime(11, 0), 30);
            assertThat(((NotDone) booking.book(clinic.id(), new OfReferral(mine.id(), foreign), "r")).refusals())
                    .contains(BookingRefusal.unknown("practitioner"), BookingRefusal.unknown("room"));
        }

        @Test
        void cancelling_leaves_a_visit_and_readies_the_referral() {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            assertThat(booking.cancel(clinic.id(), id, 0, CancelledBy.PATIENT, "ill"))
                    .isInstanceOf(Done.class);
            Visit visit = visitOf(id);
            assertThat(visit.attendance()).contains(Attendance.CANCELLED_BY_PATIENT);
            assertThat(visit.slotMinutes()).contains(30);
            assertThat(visit.reported(org.earslot.ear.Ear.RIGHT).isUnknown()).isFalse();
            assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
            assertThat(book(referral, WEDNESDAY.atTime(10, 0))).isInstanceOf(Done.class);
        }

        @Test
        void who_saw_an_older_version_changes_nothing() {
            UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            booking.confirm(clinic.id(), id, 0);
            assertThat(booking.cancel(clinic.id(), id, 0, CancelledBy.CLINIC, "x"))
                    .isEqualTo(BookingResult.refused(CHANGED_MEANWHILE));
            assertThat(appointments.findById(id).orElseThrow().holdsPlace()).isTrue();
        }

        @Test
        void own_booking_is_taken_back_for_ten_minutes_only() {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            assertThat(booking.undo(clinic.id(), id, 0, "someone else")).isInstanceOf(NotDone.class);
            assertThat(booking.undo(clinic.id(), id, 0, "receptionist")).isInstanceOf(Done.class);
            assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
            assertThat(appointments.findById(id).orElseThrow().visitId()).isEmpty();
            UUID second = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            clock.advance(Booking.UNDO_WITHIN.plusSeconds(1));
            assertThat(booking.undo(clinic.id(), second, 0, "receptionist")).isInstanceOf(NotDone.class);
        }

        @Test
        void visit_log_says_the_same_as_the_diary() {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            happen(id, "10:05", ClockEvent.ARRIVED);
            happen(id, "10:07", ClockEvent.CALLED_IN);
            happen(id, "10:35", ClockEvent.FINISHED);
            happen(id, "10:40", ClockEvent.ROOM_READY);
            VisitTimes times = appointments.findById(id).orElseThrow().times();
            Visit visit = visitOf(id);
            assertThat(List.of(
                            visit.arrived().orElseThrow(),
                            visit.calledIn().orElseThrow(),
                            visit.finished().orElseThrow(),
                            visit.roomReady().orElseThrow()))
                    .containsExactly(times.arrived(), times.calledIn(), times.finished(), times.roomReady());
            assertThat(visit.attendance()).contains(Attendance.ATTENDED_LATE);
            assertThat(visit.estimatedQuantiles()).isPresent();
            assertThat(visit.timesEnteredLater()).isFalse();
            assertThat(standing(referral)).isEqualTo(ReferralStatus.CLOSED);
        }

        @Test
        void mended_times_are_mended_in_both_and_marked() {
            UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            happen(id, "10:00", ClockEvent.CALLED_IN);
            happen(id, "10:35", ClockEvent.FINISHED);
            int version = appointments.findById(id).orElseThrow().version();
            VisitTimes mended = new VisitTimes(null, at("10:02"), at("10:30"), null);
            assertThat(running.correct(clinic.id(), id, version, mended)).isInstanceOf(Done.class);
            assertThat(visitOf(id).finished()).contains(at("10:30"));
            assertThat(visitOf(id).timesEnteredLater()).isTrue();
            VisitTimes tomorrow = new VisitTimes(null, at("10:02"), at("10:30").plusSeconds(86_400), null);
            assertThat(running.correct(clinic.id(), id, version + 1, tomorrow))
                    .isEqualTo(BookingResult.refused(TIME_NOT_OF_THE_DAY));
        }

        @Test
        void did_not_attend_is_said_from_the_booked_start_on() {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            clock.set(at("09:59"));
            assertThat(running.didNotAttend(clinic.id(), id, null))
                    .isEqualTo(BookingResult.refused(BookingRefusal.notBeforeStart(LocalTime.of(10, 0))));
            clock.set(at("10:20"));
            assertThat(running.didNotAttend(clinic.id(), id, null)).isInstanceOf(Done.class);
            assertThat(visitOf(id).attendance()).contains(Attendance.DID_NOT_ATTEND);
            assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
            happen(id, "10:25", ClockEvent.ARRIVED);
            happen(id, "10:26", ClockEvent.CALLED_IN);
            assertThat(visitOf(id).attendance()).isEmpty();
            happen(id, "10:40", ClockEvent.FINISHED);
            assertThat(visitOf(id).attendance()).contains(Attendance.ATTENDED_LATE);
        }

        @Test
        void nothing_happens_on_another_day() {
            UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            assertThat(running.record(clinic.id(), id, ClockEvent.ARRIVED))
                    .isEqualTo(BookingResult.refused(TIME_NOT_OF_THE_DAY));
        }

        @Test
        void fit_in_stands_beside_booked_slots() {
            fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
            AskedPlace place = fixture.place(clinic, WEDNESDAY.atTime(10, 7), 1);
            BookingResult result =
                    booking.book(clinic.id(), new OfFitIn(referral.id(), null, null, null, "pain", place), "r");
            assertThat(result).isInstanceOf(Done.class);
            DaySchedule day = diaries.of(clinic.id(), WEDNESDAY);
            assertThat(day.lane(clinic.p1()).orElseThrow().seen()).hasSize(2);
            UUID id = ((Done) result).appointmentId();
            happen(id, "10:10", ClockEvent.CALLED_IN);
            assertThat(visitOf(id).fitIn()).isTrue();
            assertThat(visitOf(id).slotMinutes()).isEmpty();
        }

        @Test
        void every_offer_can_be_booked_and_waits_are_told() {
            for (int i = 0; i < 6; i++) {
                fixture.appointment(clinic, WEDNESDAY.atTime(9 + i, 30).minusMinutes(i % 2 * 30L), 30);
            }
            Offers found = offers(SlotWish.of(
                    fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH).id()));
            assertThat(found.best()).hasSize(Slots.MOST_OFFERS);
            assertThat(found.to()).isEqualTo(found.from().plusWeeks(Slots.WEEKS));
            for (Offer offer : found.best()) {
                assertThat(offer.ownWaitMinutes()).isBetween(0.0, 60.0);
                assertThat(offer.overtimeRisk()).isBetween(0.0, 1.0);
                Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
                BookingResult result = booking.book(clinic.id(), new OfReferral(referral.id(), offer.place()), "r");
                if (result instanceof Done done) {
                    booking.undo(clinic.id(), done.appointmentId(), 0, "r");
                } else {
                    throw new AssertionError(offer + ": " + result);
                }
            }
        }

        @Test
        void wishes_narrow_the_offers() {
            Referral referral = fixture.referral(
                    clinic,
                    DiaryFixture.details(
                            Method.MICROSUCTION, Ears.BOTH, WEDNESDAY.plusDays(2), WEDNESDAY.plusDays(8), null));
            assertThat(offers(SlotWish.of(referral.id())).best())
                    .isNotEmpty()
                    .allSatisfy(offer ->
                            assertThat(offer.session().date()).isBetween(WEDNESDAY.plusDays(2), WEDNESDAY.plusDays(8)));
            SlotWish mornings = new SlotWish(referral.id(), null, null, null, clinic.p2(), PartOfDay.MORNING, 20);
            assertThat(offers(mornings).best()).isNotEmpty().allSatisfy(offer -> {
                assertThat(offer.start()).isBefore(LocalTime.NOON);
                assertThat(offer.session().practitionerId()).isEqualTo(clinic.p2());
            });
            Referral byHand = fixture.referral(clinic, Method.MANUAL_REMOVAL, Ears.BOTH);
            assertThat(offers(SlotWish.of(byHand.id())).best())
                    .isNotEmpty()
                    .allSatisfy(offer ->
                            assertThat(offer.session().practitionerId()).isEqualTo(clinic.p1()));
        }

        @Test
        void booked_referral_is_not_looked_for_but_its_appointment_can_be_moved() {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID id = fixture.appointment(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
            assertThat(slots.search(clinic.id(), SlotWish.of(referral.id()))).isInstanceOf(NotLooked.class);
            SlotWish move = new SlotWish(null, id, WEDNESDAY, WEDNESDAY, clinic.p1(), PartOfDay.ANY, 20);
            Offer offer = offers(move).best().get(0);
            assertThat(booking.move(clinic.id(), id, 0, offer.place())).isInstanceOf(Done.class);
        }

        @Test
        void a_slow_visit_adds_wait_to_the_next() {
            UUID slow = fixture.appointment(
                    clinic,
                    fixture.referral(clinic, Method.MANUAL_REMOVAL, Ears.BOTH),
                    fixture.place(clinic, WEDNESDAY.atTime(9, 0), 10));
            UUID next = fixture.appointment(clinic, WEDNESDAY.atTime(9, 10), 30);
            DaySchedule.Lane lane =
                    diaries.of(clinic.id(), WEDNESDAY).lane(clinic.p1()).orElseThrow();
            double wait = lane.lines().get(1).waitMinutes();
            assertThat(lane.lines()).extracting(DaySchedule.Line::id).containsExactly(slow, next);
            assertThat(wait).isGreaterThan(5);
            assertThat(lane.lines().get(1).expected().starts()).isAfter(LocalTime.of(9, 10));
            assertThat(lane.sessions().get(0).run().pastEnd()).isLessThan(0.01);
        }

        @Test
        void the_two_days_of_clock_change_keep_their_wall_clock() {
            clock.set(Instant.parse("2026-03-27T09:00:00Z"));
            weekendSession(LocalDate.of(2026, 3, 29), LocalTime.of(0, 30), LocalTime.of(12, 0));
            UUID spring = fixture.appointment(clinic, LocalDate.of(2026, 3, 29).atTime(9, 0), 30);
            assertThat(appointments.findById(spring).orElseThrow().place().start())
                    .isEqualTo(Instant.parse("2026-03-29T08:00:00Z"));
            assertThat(refusal(LocalDate.of(2026, 3, 29).atTime(1, 15), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(CLOCKS_CHANGE);
            assertThat(refusal(LocalDate.of(2026, 3, 29).atTime(0, 45), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(CLOCKS_CHANGE);
            clock.set(Instant.parse("2026-10-23T09:00:00Z"));
            weekendSession(LocalDate.of(2026, 10, 25), LocalTime.of(0, 30), LocalTime.of(12, 0));
            UUID autumn = fixture.appointment(clinic, LocalDate.of(2026, 10, 25).atTime(9, 0), 30);
            assertThat(appointments.findById(autumn).orElseThrow().place().start())
                    .isEqualTo(Instant.parse("2026-10-25T09:00:00Z"));
            assertThat(refusal(LocalDate.of(2026, 10, 25).atTime(1, 45), 30))
                    .extracting(BookingRefusal::why)
                    .isEqualTo(CLOCKS_CHANGE);
            DaySchedule day = diaries.of(clinic.id(), LocalDate.of(2026, 10, 25));
            assertThat(day.lines().map(DaySchedule.Line::start)).containsExactly(LocalTime.of(9, 0));
        }

        private void weekendSession(LocalDate date, LocalTime from, LocalTime to) {
            exceptions.save(SessionException.extra(
                    UUID.randomUUID(),
                    clinic.id(),
                    date,
                    clinic.p1(),
                    clinic.r1(),
                    new TimeSpan(from, to),
                    null,
                    "backlog"));
        }

        private void happen(UUID id, String time, ClockEvent event) {
            clock.set(at(time));
            assertThat(running.record(clinic.id(), id, event)).isInstanceOf(Done.class);
        }

        private static Instant at(String time) {
            return Instant.parse("2026-03-04T" + time + ":00Z");
        }

        private BookingResult book(Referral referral, LocalDateTime start) {
            return booking.book(clinic.id(), new OfReferral(referral.id(), fixture.place(clinic, start, 30)), "r");
        }

        private BookingRefusal refusal(LocalDateTime start, int minutes) {
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            BookingResult result = booking.book(
                    clinic.id(), new OfReferral(referral.id(), fixture.place(clinic, start, minutes)), "r");
            List<BookingRefusal> refusals = ((NotDone) result).refusals();
            assertThat(refusals).hasSize(1);
            return refusals.get(0);
        }

        private Offers offers(SlotWish wish) {
            return (Offers) slots.search(clinic.id(), wish);
        }

        private Visit visitOf(UUID appointmentId) {
            return visits.findById(appointments
                            .findById(appointmentId)
                            .flatMap(Appointment::visitId)
                            .orElseThrow())
                    .orElseThrow();
        }

        private ReferralStatus standing(Referral referral) {
            return referrals.findById(referral.id()).orElseThrow().status();
        }

        private static ReferralDetails withCaution(ReferralDetails said, Caution caution) {
            return said.with(new CautionAnswers(true, List.of(new AskedCaution(caution, null, null))));
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Desk {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Desk {}
}
