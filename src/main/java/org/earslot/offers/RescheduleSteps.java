package org.earslot.offers;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.Rearranged;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.PlannedVisit;
import org.earslot.booking.Planning;
import org.earslot.booking.PortableEquipment;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.stereotype.Component;

/** Moves several appointments at once. */
@Component
class RescheduleSteps {

    private final DiaryChange change;
    private final Planning planning;
    private final PlaceRules rules;
    private final PortableEquipment units;
    private final Appointments appointments;
    private final RescheduledVisits visits;
    private final ClinicClock clock;

    RescheduleSteps(
            DiaryChange change,
            Planning planning,
            PlaceRules rules,
            PortableEquipment units,
            Appointments appointments,
            RescheduledVisits visits,
            ClinicClock clock) {
        this.change = change;
        this.planning = planning;
        this.rules = rules;
        this.units = units;
        this.appointments = appointments;
        this.visits = visits;
        this.clock = clock;
    }

    /** One appointment on its way to another place. */
    record Step(
            Appointment appointment,
            BookedPlace to,
            PlannedVisit planned,
            boolean confirmed,
            RescheduledVisit before) {}

    /** The step of a move that is made now. */
    Step of(UUID rearrangementId, Appointment appointment, Move shift) {
        return new Step(
                appointment,
                rules.onTheClock(appointment.clinicId(), shift.place()),
                planning.doneBy(appointment, shift.place().practitionerId()),
                shift.asked(),
                new RescheduledVisit(rearrangementId, appointment));
    }

    /** The step back to the place before. */
    static Step back(Appointment appointment, RescheduledVisit before) {
        PlannedVisit now = appointment.planned();
        PlannedVisit planned = new PlannedVisit(
                now.referralId(),
                now.patientId(),
                now.otherVisitKindId(),
                now.method(),
                now.ears(),
                before.estimate(),
                before.estimateVersion());
        return new Step(appointment, before.from(), planned, before.wasConfirmed(), before);
    }

    /** Moves all of them, or none: the places are let go first and taken again then. */
    BookingResult carryOut(ClinicId clinicId, List<Step> steps, UUID rearrangementId, String why) {
        steps.forEach(step -> step.appointment().freePlace());
        appointments.saveAllAndFlush(steps.stream().map(Step::appointment).toList());
        List<Step> byStart = steps.stream()
                .sorted(Comparator.comparing(step -> step.to().start()))
                .toList();
        for (Step step : byStart) {
            Appointment appointment = step.appointment();
            String from = said(clinicId, appointment.place());
            Optional<BookingRefusal> refusal = rules.taken(clinicId, step.to(), appointment.id())
                    .or(() -> units.taken(appointment, step.to()))
                    .or(() -> appointment.moveTo(
                            step.to(), step.planned().estimate(), step.planned().estimateVersion()));
            if (refusal.isEmpty() && step.confirmed()) {
                refusal = appointment.confirm();
            }
            String moved = "from " + from + " to " + said(clinicId, step.to()) + ", " + why;
            BookingResult result = change.recorded(appointment, refusal, "appointment-moved", moved);
            if (!(result instanceof Done done)) {
                return result;
            }
            step.before().movedTo(done.version());
            visits.save(step.before());
        }
        return new Rearranged(rearrangementId);
    }

    private String said(ClinicId clinicId, BookedPlace place) {
        return clock.local(clinicId, place.start()) + ", " + place.slotMinutes() + " min";
    }
}
