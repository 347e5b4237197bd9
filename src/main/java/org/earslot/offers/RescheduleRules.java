package org.earslot.offers;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.PATIENT_NOT_ASKED;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.Planning;
import org.earslot.clinic.ClinicClock;
import org.springframework.stereotype.Component;

/** What forbids to move an appointment along with others, or to undo that. */
@Component
class RescheduleRules {

    private final Planning planning;
    private final PlaceRules rules;
    private final ClinicClock clock;

    RescheduleRules(Planning planning, PlaceRules rules, ClinicClock clock) {
        this.planning = planning;
        this.rules = rules;
        this.clock = clock;
    }

    /** Why an appointment is not moved that way along with others. */
    List<BookingRefusal> refusals(Appointment appointment, Move shift) {
        if (appointment.version() != shift.version()) {
            return List.of(BookingRefusal.of(CHANGED_MEANWHILE));
        } else if (!appointment.status().toCome() || appointment.fitIn()) {
            return List.of(BookingRefusal.notNow("move", appointment.status()));
        }
        List<BookingRefusal> refusals = new ArrayList<>();
        planning.notMovedWithOthers(appointment).ifPresent(refusals::add);
        if (appointment.confirmed() && !shift.asked()) {
            refusals.add(BookingRefusal.of(PATIENT_NOT_ASKED));
        }
        refusals.addAll(planning.stillSuits(appointment, shift.place().date()));
        refusals.addAll(rules.broken(
                appointment.clinicId(),
                shift.place(),
                appointment.planned().method(),
                appointment.patientId().orElse(null)));
        return refusals;
    }

    /** Why the move of an appointment is not undone. */
    List<BookingRefusal> refusalsOfUndo(Appointment appointment, RescheduledVisit before, boolean asked) {
        return Stream.concat(
                        changedSince(appointment, before, asked).stream(),
                        planning.notMovedWithOthers(appointment).stream())
                .toList();
    }

    /** Likewise, but for what is decided of the patient. */
    List<BookingRefusal> changedSince(Appointment appointment, RescheduledVisit before, boolean asked) {
        if (appointment.version() != before.versionAfter()) {
            return List.of(BookingRefusal.of(CHANGED_MEANWHILE));
        } else if (!appointment.status().toCome()) {
            return List.of(BookingRefusal.notNow("move", appointment.status()));
        }
        List<BookingRefusal> refusals = new ArrayList<>();
        if (appointment.confirmed() && !asked) {
            refusals.add(BookingRefusal.of(PATIENT_NOT_ASKED));
        }
        if (before.from().start().isBefore(clock.now())) {
            var start = clock.local(appointment.clinicId(), before.from().start());
            refusals.add(BookingRefusal.inThePast(start.toLocalDate(), start.toLocalTime()));
        }
        return refusals;
    }
}
