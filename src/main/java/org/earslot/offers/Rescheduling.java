package org.earslot.offers;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.PATIENT_NOT_ASKED;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.BookingResult.Rearranged;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.PlannedVisit;
import org.earslot.booking.Planning;
import org.earslot.booking.PortableEquipment;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicClock;
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
    private final RowLocks locks;
    private final Planning planning;
    private final PlaceRules rules;
    private final PortableEquipment units;
    private final Appointments appointments;
    private final Reschedules reschedules;
    private final RescheduledVisits visits;
    private final ClinicClock clock;

    Rescheduling(
            DiaryChange change,
            RowLocks locks,
            Planning planning,
            PlaceRules rules,
            PortableEquipment units,
            Appointments appointments,
            Reschedules reschedules,
            RescheduledVisits visits,
            ClinicClock clock) {
        this.change = change;
        this.locks = locks;
        this.planning = planning;
        this.rules = rules;
        this.units = units;
        this.appointments = appointments;
        this.reschedules = reschedules;
        this.visits = visits;
        this.clock = clock;
    }

    /** One appointment on its way to another place. */
    private record Step(
            Appointment appointment,
            BookedPlace to,
            PlannedVisit planned,
            boolean confirmed,
            RescheduledVisit before) {}

    /**
     * Makes the change.
     *
     * @param date the day that is to be improved
     * @param shifts at least one, each of another appointment
     * @param who the sign-in name of whoever presses
     */
    public BookingResult apply(UUID clinicId, LocalDate date, DayFix fix, List<Move> shifts, String who) {
        Map<UUID, Move> byId = shifts.stream()
                .collect(Collectors.toMap(Move::appointmentId, Function.identity(), (a, b) -> b, TreeMap::new));
        Set<LocalDate> days = shifts.stream().map(shift -> shift.place().date()).collect(Collectors.toSet());
        return change.whole(() -> held(clinicId, byId.keySet(), days, moved -> {
            List<BookingRefusal> refusals = moved.stream()
                    .flatMap(each -> refusals(each, byId.get(each.id())).stream())
                    .distinct()
                    .toList();
            if (!refusals.isEmpty()) {
                return new NotDone(refusals);
            }
            Reschedule made =
                    reschedules.save(new Reschedule(UUID.randomUUID(), clinicId, date, fix, who, clock.now()));
            List<Step> steps = moved.stream()
                    .map(each -> step(made.id(), each, byId.get(each.id())))
                    .toList();
            return carriedOut(clinicId, steps, made.id(), fix.code());
        }));
    }

    /**
     * Takes a change back, unless something it moved was changed since, or a red flag of such a patient is open now.
     *
     * @param asked whether the patients were asked whose new start is confirmed
     */
    public BookingResult undo(UUID clinicId, UUID rearrangementId, boolean asked, String who) {
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
            return held(clinicId, before.keySet(), days, moved -> {
                List<BookingRefusal> refusals = moved.stream()
                        .flatMap(each -> Stream.concat(
                                againstUndo(each, before.get(each.id()), asked).stream(),
                                planning.notMovedWithOthers(each).stream()))
                        .distinct()
                        .toList();
                if (made.get().undoneAt().isPresent()) {
                    return BookingResult.refused(CHANGED_MEANWHILE);
                } else if (!refusals.isEmpty()) {
                    return new NotDone(refusals);
                }
                made.get().takeBack(who, clock.now());
                reschedules.save(made.get());
                List<Step> steps = moved.stream()
                        .map(each -> back(each, before.get(each.id())))
                        .toList();
                return carriedOut(clinicId, steps, rearrangementId, "undo of a change");
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
    public List<Undoable> undoable(UUID clinicId, LocalDate date) {
        return reschedules.findByClinicIdAndClinicDateAndUndoneAtIsNullOrderByMadeAtDesc(clinicId, date).stream()
                .flatMap(made -> undoable(made).stream())
                .toList();
    }

    private Optional<Undoable> undoable(Reschedule made) {
        boolean askFirst = false;
        for (RescheduledVisit each : visits.findByClinicIdAndRearrangementId(made.clinicId(), made.id())) {
            Optional<Appointment> now = appointments.findByClinicIdAndId(made.clinicId(), each.appointmentId());
            if (now.isEmpty() || !againstUndo(now.get(), each, true).isEmpty()) {
                return Optional.empty();
            }
            askFirst |= now.get().confirmed();
        }
        LocalTime at = clock.local(made.clinicId(), made.madeAt()).toLocalTime();
        return Optional.of(new Undoable(made.id(), made.fix(), made.madeBy(), at, askFirst));
    }

    /** Holds every row that the change touches, in the order everyone keeps to, then makes it. */
    private BookingResult held(
            UUID clinicId, Set<UUID> ids, Set<LocalDate> moreDays, Function<List<Appointment>, BookingResult> verb) {
        Set<LocalDate> days = new HashSet<>(moreDays);
        Set<UUID> referrals = new HashSet<>();
        List<UUID> sorted = ids.stream().sorted().toList();
        for (UUID id : sorted) {
            Optional<RowLocks.LockKeys> keys = locks.keysOf(clinicId, id);
            if (keys.isEmpty()) {
                return BookingResult.refused(BookingRefusal.unknown("appointment"));
            }
            days.add(keys.get().date());
            Optional.ofNullable(keys.get().referralId()).ifPresent(referrals::add);
        }
        referrals.stream().sorted().forEach(id -> locks.holdReferral(clinicId, id));
        List<LocalDate> closed = locks.holdDays(clinicId, days);
        if (!closed.isEmpty()) {
            return BookingResult.refused(BookingRefusal.dayClosed(closed.get(0)));
        }
        sorted.forEach(id -> locks.holdAppointment(clinicId, id));
        List<Appointment> moved = sorted.stream()
                .map(id -> appointments.findByClinicIdAndId(clinicId, id).orElseThrow())
                .toList();
        return moved.stream().allMatch(each -> days.contains(each.place().date()))
                ? verb.apply(moved)
                : BookingResult.refused(CHANGED_MEANWHILE);
    }

    private List<BookingRefusal> refusals(Appointment appointment, Move shift) {
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

    private List<BookingRefusal> againstUndo(Appointment appointment, RescheduledVisit before, boolean asked) {
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

    private Step step(UUID rearrangementId, Appointment appointment, Move shift) {
        return new Step(
                appointment,
                rules.onTheClock(appointment.clinicId(), shift.place()),
                planning.doneBy(appointment, shift.place().practitionerId()),
                shift.asked(),
                new RescheduledVisit(rearrangementId, appointment));
    }

    private static Step back(Appointment appointment, RescheduledVisit before) {
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

    private BookingResult carriedOut(UUID clinicId, List<Step> steps, UUID rearrangementId, String why) {
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

    private String said(UUID clinicId, BookedPlace place) {
        return clock.local(clinicId, place.start()) + ", " + place.slotMinutes() + " min";
    }
}
