package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.NOT_NOW;
import static org.earslot.booking.BookingRefusalCode.TIMES_OUT_OF_ORDER;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.visit.VisitTimes;
import org.junit.jupiter.api.Test;

/** The verbs of an appointment change it or say why not. */
class AppointmentTest {

    private static final Instant START = Instant.parse("2026-03-04T10:00:00Z");

    @Test
    void booking_holds_the_place_and_is_not_confirmed() {
        Appointment appointment = booked();
        assertThat(appointment.holdsPlace()).isTrue();
        assertThat(appointment.confirmed()).isFalse();
        assertThat(appointment.status()).isEqualTo(AppointmentStatus.BOOKED);
        assertThat(appointment.place().end()).isEqualTo(START.plus(Duration.ofMinutes(30)));
    }

    @Test
    void fit_in_holds_no_place() {
        Appointment fitIn = Appointment.fitIn(
                UUID.randomUUID(), ClinicId.random(), planned(), place(START), "walked in", "r", START);
        assertThat(fitIn.holdsPlace()).isFalse();
        assertThat(fitIn.fitInReason()).contains("walked in");
    }

    @Test
    void move_asks_for_a_new_confirmation() {
        Appointment appointment = booked();
        appointment.confirm();
        assertThat(appointment.moveTo(place(START.plusSeconds(3600)), null, null))
                .isEmpty();
        assertThat(appointment.confirmed()).isFalse();
    }

    @Test
    void cancelling_frees_the_place_and_keeps_by_whom() {
        Appointment appointment = booked();
        assertThat(appointment.cancel(CancelledBy.PATIENT, "ill")).isEmpty();
        assertThat(appointment.holdsPlace()).isFalse();
        assertThat(appointment.attendance()).contains(Attendance.CANCELLED_BY_PATIENT);
        assertThat(appointment.cancel(CancelledBy.CLINIC, "again"))
                .contains(BookingRefusal.notNow("cancel", AppointmentStatus.CANCELLED));
        assertThat(appointment.cancelReason()).contains("ill");
    }

    @Test
    void visit_runs_in_order_only() {
        Appointment appointment = booked();
        assertThat(appointment.finish(START)).map(BookingRefusal::why).contains(NOT_NOW);
        assertThat(appointment.makeRoomReady(START)).map(BookingRefusal::why).contains(NOT_NOW);
        appointment.arrive(START, AppointmentStatus.CHECKED_IN);
        assertThat(appointment.callIn(START.minusSeconds(60)))
                .map(BookingRefusal::why)
                .contains(TIMES_OUT_OF_ORDER);
        assertThat(appointment.callIn(START.plusSeconds(60))).isEmpty();
        assertThat(appointment.callIn(START.plusSeconds(90)))
                .map(BookingRefusal::why)
                .contains(NOT_NOW);
        assertThat(appointment.finish(START.plusSeconds(60)))
                .map(BookingRefusal::why)
                .contains(TIMES_OUT_OF_ORDER);
        assertThat(appointment.finish(START.plusSeconds(900))).isEmpty();
        assertThat(appointment.makeRoomReady(START.plusSeconds(899)))
                .map(BookingRefusal::why)
                .contains(TIMES_OUT_OF_ORDER);
        assertThat(appointment.makeRoomReady(START.plusSeconds(1000))).isEmpty();
        assertThat(appointment.cancel(CancelledBy.CLINIC, "late"))
                .map(BookingRefusal::why)
                .contains(NOT_NOW);
    }

    @Test
    void arriving_a_minute_after_the_booked_start_is_late() {
        assertThat(seenAfterArrivalAt(START.plusSeconds(59))).contains(Attendance.ATTENDED);
        assertThat(seenAfterArrivalAt(START.plusSeconds(60))).contains(Attendance.ATTENDED_LATE);
    }

    @Test
    void who_did_not_attend_may_still_arrive() {
        Appointment appointment = booked();
        appointment.missVisit();
        assertThat(appointment.attendance()).contains(Attendance.DID_NOT_ATTEND);
        assertThat(appointment.arrive(START.plusSeconds(1200), AppointmentStatus.CHECKED_IN))
                .isEmpty();
        assertThat(appointment.attendance()).isEmpty();
        assertThat(appointment.holdsPlace()).isFalse();
    }

    @Test
    void late_and_not_seen_differs_from_did_not_attend() {
        Appointment appointment = booked();
        appointment.turnAwayLate(START.plusSeconds(1800));
        assertThat(appointment.status()).isEqualTo(AppointmentStatus.NOSHOW);
        assertThat(appointment.attendance()).contains(Attendance.LATE_NOT_SEEN);
        assertThat(appointment.arrive(START.plusSeconds(1900), AppointmentStatus.CHECKED_IN))
                .isPresent();
    }

    @Test
    void corrected_times_must_follow_each_other_without_a_gap() {
        Appointment appointment = booked();
        Instant later = START.plusSeconds(600);
        assertThat(appointment.correct(new VisitTimes(null, null, later, null))).isPresent();
        assertThat(appointment.correct(new VisitTimes(later, START, null, null)))
                .isPresent();
        assertThat(appointment.correct(new VisitTimes(START, START, START, null)))
                .isPresent();
        assertThat(appointment.correct(new VisitTimes(START, START, later, later)))
                .isEmpty();
        assertThat(appointment.status()).isEqualTo(AppointmentStatus.FULFILLED);
    }

    @Test
    void a_removed_finished_time_puts_the_patient_back_into_the_room() {
        Appointment appointment = booked();
        appointment.callIn(START);
        appointment.finish(START.plusSeconds(600));
        appointment.makeRoomReady(START.plusSeconds(700));
        assertThat(appointment.correct(new VisitTimes(null, START, null, START.plusSeconds(700))))
                .isPresent();
        assertThat(appointment.correct(new VisitTimes(null, START, null, null))).isEmpty();
        assertThat(appointment.times()).isEqualTo(new VisitTimes(null, START, null, null));
        assertThat(appointment.status()).isEqualTo(AppointmentStatus.FULFILLED);
        assertThat(appointment.finish(START.plusSeconds(900))).isEmpty();
    }

    @Test
    void times_removed_before_the_end_put_it_back_to_booked() {
        Appointment appointment = booked();
        appointment.arrive(START, AppointmentStatus.CHECKED_IN);
        appointment.callIn(START);
        assertThat(appointment.correct(VisitTimes.NONE)).isEmpty();
        assertThat(appointment.status()).isEqualTo(AppointmentStatus.BOOKED);
        assertThat(appointment.attendance()).isEmpty();
    }

    private static Optional<Attendance> seenAfterArrivalAt(Instant arrived) {
        Appointment appointment = booked();
        appointment.arrive(arrived, AppointmentStatus.CHECKED_IN);
        appointment.callIn(arrived.plusSeconds(30));
        return appointment.attendance();
    }

    private static Appointment booked() {
        return Appointment.booked(
                UUID.randomUUID(),
                ClinicId.random(),
                planned(),
                place(START),
                "receptionist",
                START.minusSeconds(9000));
    }

    private static PlannedVisit planned() {
        return new PlannedVisit(null, UUID.randomUUID(), null, Method.MICROSUCTION, Ears.BOTH, null, null);
    }

    private static BookedPlace place(Instant start) {
        return new BookedPlace(UUID.randomUUID(), UUID.randomUUID(), LocalDate.of(2026, 3, 4), start, 30);
    }
}
