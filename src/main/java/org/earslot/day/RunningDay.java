package org.earslot.day;

import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.BookingConsequences;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRefusal.ChangedMeanwhile;
import org.earslot.booking.BookingRefusal.DayClosed;
import org.earslot.booking.BookingRefusal.KeyOfAnotherPress;
import org.earslot.booking.BookingRefusal.NotBeforeStart;
import org.earslot.booking.BookingRefusal.NothingToRecord;
import org.earslot.booking.BookingRefusal.PressTooOld;
import org.earslot.booking.BookingRefusal.SpanOutOfReason;
import org.earslot.booking.BookingRefusal.TimeNotOfTheDay;
import org.earslot.booking.BookingRefusal.TimesOutOfOrder;
import org.earslot.booking.BookingResult;
import org.earslot.booking.ClockTimes;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.FoundCautions;
import org.earslot.booking.Planning;
import org.earslot.clinic.ClinicClock;
import org.earslot.ear.Attendance;
import org.earslot.referral.ReferralStatus;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitRefusal;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/** The day as it happens: who is there, called in, finished; the same in the diary and in the visit log. */
@Service
public class RunningDay {

    private final DiaryChange change;
    private final Planning planning;
    private final BookingConsequences bookingConsequences;
    private final IdempotencyKeys keys;
    private final FoundCautions found;
    private final ClinicClock clock;

    RunningDay(
            DiaryChange change,
            Planning planning,
            BookingConsequences bookingConsequences,
            IdempotencyKeys keys,
            FoundCautions found,
            ClinicClock clock) {
        this.change = change;
        this.planning = planning;
        this.bookingConsequences = bookingConsequences;
        this.keys = keys;
        this.found = found;
        this.clock = clock;
    }

    /** Records what happens now. */
    public BookingResult record(UUID clinicId, UUID appointmentId, ClockEvent event) {
        return record(clinicId, appointmentId, null, event, null);
    }

    /**
     * Records what happened.
     *
     * @param version the version that whoever asks has seen; null where any will do
     * @param at when; null for now
     */
    public BookingResult record(
            UUID clinicId, UUID appointmentId, @Nullable Integer version, ClockEvent event, @Nullable Instant at) {
        Instant when = at == null ? clock.now() : at;
        return onOpenDay(
                clinicId,
                appointmentId,
                version,
                appointment -> ofTheDay(appointment, when)
                        ? happen(appointment, event, when)
                        : Optional.of(new TimeNotOfTheDay()),
                event.code());
    }

    /**
     * Records a press that brings its own key and age: once, however often it is sent, and at the time it was made.
     *
     * @param who the sign-in name of whoever sends it
     */
    public BookingResult press(UUID clinicId, ClockCommand press, String who) {
        if (!press.inReason()) {
            return BookingResult.refused(new PressTooOld(ClockCommand.LONGEST_KEPT.toHours()));
        }
        Instant received = clock.now();
        Instant made = press.wasKept() ? received.minus(press.age()).truncatedTo(ChronoUnit.SECONDS) : received;
        return change.ofAppointment(clinicId, press.appointmentId(), null, Set.of(), (appointment, closed) -> {
            Optional<IdempotencyKeys.Pressed> before = keys.find(clinicId, press.key());
            if (before.isPresent()) {
                return before.get().is(press)
                        ? new BookingResult.Done(appointment.id(), appointment.version())
                        : BookingResult.refused(new KeyOfAnotherPress());
            }
            Optional<BookingRefusal> refusal = !closed.isEmpty()
                    ? Optional.of(new DayClosed(closed.get(0)))
                    : !ofTheDay(appointment, made)
                            ? Optional.of(new TimeNotOfTheDay())
                            : happen(appointment, press.event(), made);
            if (refusal.isEmpty()) {
                keys.keep(clinicId, press, made, received, who);
                mark(appointment, press);
            }
            return change.settled(
                    appointment, refusal, pressed(press.event()), press.wasKept() ? "kept, then sent" : null);
        });
    }

    /** A time that the server did not take itself stays out of the fit; when the patient came plays no part there. */
    private void mark(Appointment appointment, ClockCommand press) {
        if (press.wasKept() && press.event() != ClockEvent.ARRIVED) {
            bookingConsequences.visit(appointment).ifPresent(Visit::timesCameLater);
        }
    }

    /** Nobody came by the booked start. Not a time, so it can be said after the day is closed too. */
    public BookingResult didNotAttend(UUID clinicId, UUID appointmentId, @Nullable Integer version) {
        return change.ofAppointment(clinicId, appointmentId, version, Set.of(), (appointment, closed) -> {
            Instant start = appointment.place().start();
            Optional<BookingRefusal> refusal = clock.now().isBefore(start)
                    ? Optional.of(
                            new NotBeforeStart(clock.local(clinicId, start).toLocalTime()))
                    : notSeen(appointment, appointment.missVisit());
            return change.settled(appointment, refusal, "clock-did-not-attend", null);
        });
    }

    /** The patient came too late to be seen. */
    public BookingResult lateNotSeen(UUID clinicId, UUID appointmentId, @Nullable Integer version) {
        return onOpenDay(
                clinicId,
                appointmentId,
                version,
                appointment -> {
                    Instant now = clock.now();
                    if (now.isBefore(appointment.place().start())) {
                        return Optional.of(new NotBeforeStart(
                                clock.local(clinicId, appointment.place().start())
                                        .toLocalTime()));
                    }
                    Instant came = ofTheDay(appointment, now)
                            ? now
                            : appointment.place().end();
                    return notSeen(appointment, appointment.turnAwayLate(came));
                },
                "late_not_seen");
    }

    /** Puts the times right. @param version the version that whoever asks has seen */
    public BookingResult mend(UUID clinicId, UUID appointmentId, int version, ClockTimes times) {
        return onOpenDay(
                clinicId,
                appointmentId,
                version,
                appointment -> {
                    boolean strange = Stream.of(times.arrived(), times.calledIn(), times.finished(), times.roomReady())
                            .anyMatch(time -> time != null && !ofTheDay(appointment, time));
                    if (strange) {
                        return Optional.of(new TimeNotOfTheDay());
                    }
                    boolean arrivesNow =
                            times.arrived() != null && appointment.times().arrived() == null;
                    return first(
                            arrivesNow ? redFlagUndecided(appointment) : Optional.empty(),
                            () -> mend(appointment, times));
                },
                "times_mended");
    }

    /** Records findings and outcome whatever is recorded already. */
    public BookingResult recordFindings(UUID clinicId, UUID appointmentId, Findings findings, String who) {
        return recordFindings(clinicId, appointmentId, null, findings, who);
    }

    /**
     * Records findings and outcome of a visit that has begun; a caution found becomes one of the patient.
     *
     * @param seen the {@linkplain Findings#version version} that the form carried; null where any will do
     * @param who the sign-in name of whoever records them
     */
    public BookingResult recordFindings(
            UUID clinicId, UUID appointmentId, @Nullable String seen, Findings findings, String who) {
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            Optional<Visit> visit =
                    appointment.times().calledIn() == null ? Optional.empty() : bookingConsequences.visit(appointment);
            if (visit.isEmpty()) {
                return BookingResult.refused(new NothingToRecord());
            }
            if (seen != null && !Findings.version(visit).isSeen(seen)) {
                return BookingResult.refused(new ChangedMeanwhile());
            }
            findings.ears().forEach(visit.get()::recordFindings);
            findings.stoppedEarly().ifGiven(visit.get()::stop);
            if (findings.note() != null) {
                visit.get().note(findings.note());
            }
            findings.nextStep().ifGiven(visit.get()::decide);
            found.record(appointment, visit.get(), who);
            return change.settled(appointment, Optional.empty(), "findings-recorded", null);
        });
    }

    /** A referral is closed by the visit's end and open again when that is taken back. */
    private Optional<BookingRefusal> mend(Appointment appointment, ClockTimes times) {
        boolean wasOver = appointment.times().finished() != null;
        Optional<BookingRefusal> refusal = first(
                appointment.mend(times),
                () -> inLog(
                        appointment,
                        visit -> visit.mendTimes(new VisitTimes(
                                times.arrived(), times.calledIn(), times.finished(), times.roomReady()))));
        boolean isOver = times.finished() != null;
        if (refusal.isEmpty() && wasOver != isOver) {
            bookingConsequences.referralStandsAt(appointment, isOver ? ReferralStatus.CLOSED : ReferralStatus.BOOKED);
        }
        if (refusal.isEmpty() && isOver) {
            appointment.attendance().ifPresent(was -> inLog(appointment, visit -> visit.attended(was)));
        }
        return refusal;
    }

    private Optional<BookingRefusal> happen(Appointment appointment, ClockEvent event, Instant when) {
        return switch (event) {
            case ARRIVED -> arrive(appointment, when);
            case CALLED_IN ->
                first(
                        appointment.times().arrived() == null
                                ? planning.deceased(
                                                appointment.clinicId(),
                                                appointment.patientId().orElse(null))
                                        .or(() -> appointment.callIn(when))
                                : appointment.callIn(when),
                        () -> inLog(appointment, visit -> calledIn(visit, appointment, when)));
            case FINISHED -> finish(appointment, when);
            case ROOM_READY ->
                first(appointment.makeRoomReady(when), () -> inLog(appointment, visit -> visit.makeRoomReady(when)));
        };
    }

    private Optional<BookingRefusal> arrive(Appointment appointment, Instant when) {
        boolean gaveUpTooSoon = appointment.attendance().equals(Optional.of(Attendance.DID_NOT_ATTEND));
        Optional<BookingRefusal> refusal = first(
                planning.closedTo(
                                appointment.clinicId(), appointment.patientId().orElse(null))
                        .or(() -> appointment.arrive(when, AppointmentStatus.CHECKED_IN)),
                () -> inLog(appointment, visit -> {
                    if (gaveUpTooSoon) {
                        visit.attended(Attendance.ATTENDED_LATE);
                    }
                    return visit.arrive(when);
                }));
        if (refusal.isEmpty()) {
            bookingConsequences.referralStandsAt(appointment, ReferralStatus.BOOKED);
        }
        return refusal;
    }

    private Optional<BookingRefusal> redFlagUndecided(Appointment appointment) {
        return planning.redFlagUndecided(
                appointment.clinicId(), appointment.patientId().orElse(null));
    }

    private Optional<VisitRefusal> calledIn(Visit visit, Appointment appointment, Instant when) {
        Optional<VisitRefusal> refusal = visit.callIn(when);
        if (refusal.isEmpty() && appointment.attendance().equals(Optional.of(Attendance.ATTENDED_LATE))) {
            return visit.attended(Attendance.ATTENDED_LATE);
        }
        return refusal;
    }

    private Optional<BookingRefusal> finish(Appointment appointment, Instant when) {
        boolean leftFromOutside = appointment.isOutside();
        Optional<BookingRefusal> refusal =
                first(appointment.finish(when), () -> inLog(appointment, visit -> visit.finish(when)));
        if (refusal.isEmpty() && leftFromOutside) {
            // How much of it was time in the room is not known.
            bookingConsequences.visit(appointment).ifPresent(Visit::timesCameLater);
        }
        if (refusal.isEmpty()) {
            bookingConsequences.referralStandsAt(appointment, ReferralStatus.CLOSED);
        }
        return refusal;
    }

    private Optional<BookingRefusal> notSeen(Appointment appointment, Optional<BookingRefusal> refusal) {
        if (refusal.isEmpty()) {
            bookingConsequences.notSeen(appointment);
        }
        return refusal;
    }

    private Optional<BookingRefusal> inLog(Appointment appointment, Function<Visit, Optional<VisitRefusal>> verb) {
        return bookingConsequences
                .visit(appointment)
                .flatMap(verb)
                .map(refusal ->
                        refusal == VisitRefusal.SPAN_OUT_OF_REASON ? new SpanOutOfReason() : new TimesOutOfOrder());
    }

    private boolean ofTheDay(Appointment appointment, Instant when) {
        LocalDate date = clock.local(appointment.clinicId(), when).toLocalDate();
        return date.equals(appointment.place().date()) && !when.isAfter(clock.now());
    }

    private BookingResult onOpenDay(
            UUID clinicId,
            UUID appointmentId,
            @Nullable Integer version,
            Function<Appointment, Optional<BookingRefusal>> verb,
            String what) {
        return change.ofAppointment(clinicId, appointmentId, version, Set.of(), (appointment, closed) -> {
            if (!closed.isEmpty()) {
                return BookingResult.refused(new DayClosed(closed.get(0)));
            }
            return change.settled(appointment, verb.apply(appointment), "clock-" + what.replace('_', '-'), null);
        });
    }

    private static String pressed(ClockEvent event) {
        return "clock-" + event.code().replace('_', '-');
    }

    private static Optional<BookingRefusal> first(
            Optional<BookingRefusal> refusal, Supplier<Optional<BookingRefusal>> next) {
        return refusal.isPresent() ? refusal : next.get();
    }
}
