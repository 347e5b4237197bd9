package org.earslot.day;

import static org.earslot.booking.BookingRefusalCode.TIME_NOT_OF_THE_DAY;

import java.time.Duration;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryChange;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.stereotype.Service;

/**
 * A second irrigation after water was instilled: the patient waits outside for 15 minutes and is called in again
 * (NICE NG98). The minutes outside are no time in room.
 */
@Service
public class SecondTry {

    /** So long the water is left (NICE NG98). */
    public static final Duration OUTSIDE = Duration.ofMinutes(15);

    private final DiaryChange change;
    private final ClinicClock clock;

    SecondTry(DiaryChange change, ClinicClock clock) {
        this.change = change;
        this.clock = clock;
    }

    /** The patient goes outside now. */
    public BookingResult stepOut(ClinicId clinicId, UUID appointmentId) {
        return today(clinicId, appointmentId, appointment -> appointment.stepOut(clock.now()), "clock-stepped-out");
    }

    /** The patient is called in again now, whether or not the time is over: whoever stands by the chair decides. */
    public BookingResult callInAgain(ClinicId clinicId, UUID appointmentId) {
        return today(
                clinicId, appointmentId, appointment -> appointment.callInAgain(clock.now()), "clock-called-in-again");
    }

    private BookingResult today(
            ClinicId clinicId,
            UUID appointmentId,
            Function<Appointment, Optional<BookingRefusal>> verb,
            String action) {
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            if (!closed.isEmpty()) {
                return BookingResult.refused(BookingRefusal.dayClosed(closed.get(0)));
            }
            if (!appointment.place().date().equals(clock.today(clinicId))) {
                return BookingResult.refused(TIME_NOT_OF_THE_DAY);
            }
            return change.recorded(appointment, verb.apply(appointment), action, null);
        });
    }
}
