package org.earslot.offers;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.PATIENT_NOT_ASKED;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.Planning;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.stereotype.Component;

/** What forbids to move an appointment along with others, or to undo that. */
@Component
class RescheduleRules {

    /** Chances nearer than this are not told apart. */
    private static final double SAME_CHANCE = 0.01;

    private final Planning planning;
    private final PlaceRules rules;
    private final MoveEffects effects;
    private final ClinicClock clock;

    RescheduleRules(Planning planning, PlaceRules rules, MoveEffects effects, ClinicClock clock) {
        this.planning = planning;
        this.rules = rules;
        this.effects = effects;
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

    /** Whether a list that the change touches would end late more often than accepted, and more often than it does now. */
    Optional<BookingRefusal> refusalTogether(ClinicId clinicId, List<Move> shifts) {
        double accepted = rules.policy(clinicId).acceptedOvertimeShare();
        return effects.of(clinicId, shifts).lists().stream()
                .filter(list -> list.then().pastEnd() > Math.max(list.before().pastEnd(), accepted) + SAME_CHANCE)
                .map(list -> BookingRefusal.beyondLateEnds(list.then().pastEnd(), accepted))
                .findFirst();
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
