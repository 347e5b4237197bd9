package org.earslot.offers;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.DiaryChange;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Moves several appointments as one change: all of them or none, by the rules of any booking. The places are let go
 * first and taken again then, so that two visits can change theirs. A patient with an open red flag, or recorded as
 * deceased, is never moved along: a case that is opened after the change was proposed stops it as a whole.
 */
@Service
public class Rescheduling {

    private final DiaryChange change;
    private final Appointments appointments;
    private final Reschedules reschedules;
    private final RescheduledVisits visits;
    private final ClinicClock clock;
    private final HeldAppointments held;
    private final RescheduleRules rules;
    private final RescheduleSteps steps;

    Rescheduling(
            DiaryChange change,
            Appointments appointments,
            Reschedules reschedules,
            RescheduledVisits visits,
            ClinicClock clock,
            HeldAppointments held,
            RescheduleRules rules,
            RescheduleSteps steps) {
        this.change = change;
        this.appointments = appointments;
        this.reschedules = reschedules;
        this.visits = visits;
        this.clock = clock;
        this.held = held;
        this.rules = rules;
        this.steps = steps;
    }

    /**
     * Makes the change.
     *
     * @param date the day that is to be improved
     * @param shifts at least one, each of another appointment
     * @param who the sign-in name of whoever presses
     */
    public BookingResult apply(ClinicId clinicId, LocalDate date, DayFix fix, List<Move> shifts, String who) {
        Map<UUID, Move> byId = shifts.stream()
                .collect(Collectors.toMap(Move::appointmentId, Function.identity(), (a, b) -> b, TreeMap::new));
        Set<LocalDate> days = shifts.stream().map(shift -> shift.place().date()).collect(Collectors.toSet());
        return change.whole(() -> held.with(clinicId, byId.keySet(), days, moved -> {
            List<BookingRefusal> refusals = moved.stream()
                    .flatMap(each -> rules.refusals(each, byId.get(each.id())).stream())
                    .distinct()
                    .toList();
            if (!refusals.isEmpty()) {
                return new NotDone(refusals);
            }
            Optional<BookingRefusal> late = rules.refusalTogether(clinicId, List.copyOf(byId.values()));
            if (late.isPresent()) {
                return BookingResult.refused(late.get());
            }
            Reschedule made =
                    reschedules.save(new Reschedule(UUID.randomUUID(), clinicId, date, fix, who, clock.now()));
            List<RescheduleSteps.Step> moves = moved.stream()
                    .map(each -> steps.of(made.id(), each, byId.get(each.id())))
                    .toList();
            return steps.carryOut(clinicId, moves, made.id(), fix.code());
        }));
    }

    /**
     * Takes a change back, unless something it moved was changed since, or a red flag of such a patient is open now.
     *
     * @param asked whether the patients were asked whose new start is confirmed
     */
    public BookingResult undo(ClinicId clinicId, UUID rearrangementId, boolean asked, String who) {
        return change.whole(() -> {
            Optional<Reschedule> made = reschedules.findByClinicIdAndId(clinicId, rearrangementId);
            if (made.isEmpty()) {
                return BookingResult.refused(BookingRefusal.unknown("change"));
            }
            Map<UUID, RescheduledVisit> before =
                    visits.findByClinicIdAndRearrangementId(clinicId, rearrangementId).stream()
                            .collect(Collectors.toMap(RescheduledVisit::appointmentId, Function.identity()));
            Set<LocalDate> days =
                    before.values().stream().map(each -> each.from().date()).collect(Collectors.toSet());
            return held.with(clinicId, before.keySet(), days, moved -> {
                List<BookingRefusal> refusals = moved.stream()
                        .flatMap(each -> rules.refusalsOfUndo(each, before.get(each.id()), asked).stream())
                        .distinct()
                        .toList();
                if (made.get().undoneAt().isPresent()) {
                    return BookingResult.refused(CHANGED_MEANWHILE);
                } else if (!refusals.isEmpty()) {
                    return new NotDone(refusals);
                }
                made.get().takeBack(who, clock.now());
                reschedules.save(made.get());
                List<RescheduleSteps.Step> moves = moved.stream()
                        .map(each -> RescheduleSteps.back(each, before.get(each.id())))
                        .toList();
                return steps.carryOut(clinicId, moves, rearrangementId, "undo of a change");
            });
        });
    }

    /**
     * A change that can still be undone.
     *
     * @param askFirst whether a start it made is confirmed, so that the patient has to be asked
     */
    public record Undoable(UUID id, DayFix fix, String by, LocalTime at, boolean askFirst) {}

    /** The changes of a day that can still be undone, the latest first. */
    @Transactional(readOnly = true)
    public List<Undoable> undoable(ClinicId clinicId, LocalDate date) {
        return reschedules.findByClinicIdAndClinicDateAndUndoneAtIsNullOrderByMadeAtDesc(clinicId, date).stream()
                .flatMap(made -> undoable(made).stream())
                .toList();
    }

    private Optional<Undoable> undoable(Reschedule made) {
        boolean askFirst = false;
        for (RescheduledVisit each : visits.findByClinicIdAndRearrangementId(made.clinicId(), made.id())) {
            Optional<Appointment> now = appointments.findByClinicIdAndId(made.clinicId(), each.appointmentId());
            if (now.isEmpty() || !rules.changedSince(now.get(), each, true).isEmpty()) {
                return Optional.empty();
            }
            askFirst |= now.get().confirmed();
        }
        LocalTime at = clock.local(made.clinicId(), made.madeAt()).toLocalTime();
        return Optional.of(new Undoable(made.id(), made.fix(), made.madeBy(), at, askFirst));
    }
}
