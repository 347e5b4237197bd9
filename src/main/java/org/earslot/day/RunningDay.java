package org.earslot.day;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.KEY_OF_ANOTHER_PRESS;
import static org.earslot.booking.BookingRefusalCode.NOTHING_TO_RECORD;
import static org.earslot.booking.BookingRefusalCode.TIME_NOT_OF_THE_DAY;

import java.time.Duration;
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
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.FoundCautions;
import org.earslot.booking.Planning;
import org.earslot.booking.VisitRecords;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.ReferralStatus;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/**
 * The day as it happens: who is there, called in, finished. The appointment alone decides whether an event can happen; its
 * row of the visit log is written from it.
 */
@Service
public class RunningDay {

    private final DiaryChange change;
    private final Planning planning;
    private final BookingConsequences bookingConsequences;
    private final VisitRecords records;
    private final IdempotencyKeys keys;
    private final FoundCautions found;
    private final ClinicClock clock;

    RunningDay(
            DiaryChange change,
            Planning planning,
            BookingConsequences bookingConsequences,
            VisitRecords records,
            IdempotencyKeys keys,
            FoundCautions found,
            ClinicClock clock) {
        this.change = change;
        this.planning = planning;
        this.bookingConsequences = bookingConsequences;
        this.records = records;
        this.keys = keys;
        this.found = found;
        this.clock = clock;
    }

    /** Records what happens now. */
    public BookingResult record(ClinicId clinicId, UUID appointmentId, ClockEvent event) {
        return record(clinicId, appointmentId, null, event, null);
    }

    /**
     * Records what happened.
     *
     * @param version the version that the person or program has seen; null if any will do
     * @param at when; null for now
     */
    public BookingResult record(
            ClinicId clinicId, UUID appointmentId, @Nullable Integer version, ClockEvent event, @Nullable Instant at) {
        Instant when = at == null ? clock.now() : at;
        return onOpenDay(
                clinicId,
                appointmentId,
                version,
                appointment -> ofTheDay(appointment, when)
                        ? happen(appointment, event, when)
                        : Optional.of(BookingRefusal.of(TIME_NOT_OF_THE_DAY)),
                event.code());
    }

    /**
     * Records a press that brings its own key and age: once, however often it is sent, and at the time it was made.
     *
     * @param who the sign-in name of whoever sends it
     */
    public BookingResult press(ClinicId clinicId, ClockCommand press, String who) {
        if (!press.isRecent()) {
            return BookingResult.refused(BookingRefusal.pressTooOld(ClockCommand.LONGEST_DELAY.toHours()));
        }
        Instant received = clock.now();
        Instant made = press.wasDelayed() ? received.minus(press.age()).truncatedTo(ChronoUnit.SECONDS) : received;
        return change.ofAppointment(clinicId, press.appointmentId(), null, Set.of(), (appointment, closed) -> {
            Optional<IdempotencyKeys.Pressed> before = keys.find(clinicId, press.key());
            if (before.isPresent()) {
                return before.get().is(press)
                        ? new BookingResult.Done(appointment.id(), appointment.version())
                        : BookingResult.refused(KEY_OF_ANOTHER_PRESS);
            }
            Optional<BookingRefusal> refusal = !closed.isEmpty()
                    ? Optional.of(BookingRefusal.dayClosed(closed.get(0)))
                    : !ofTheDay(appointment, made)
                            ? Optional.of(BookingRefusal.of(TIME_NOT_OF_THE_DAY))
                            : happen(appointment, press.event(), made);
            if (refusal.isEmpty()) {
                keys.store(clinicId, press, made, received, who);
                // A time that the server did not take itself stays out of the fit; when the patient came plays no part
                // there.
                if (press.wasDelayed() && press.event() != ClockEvent.ARRIVED) {
                    appointment.markTimesEnteredLater();
                }
            }
            return change.recorded(
                    appointment, refusal, pressed(press.event()), press.wasDelayed() ? "kept, then sent" : null);
        });
    }

    /** Nobody came by the booked start. Not a time, so it can be said after the day is closed too. */
    public BookingResult didNotAttend(ClinicId clinicId, UUID appointmentId, @Nullable Integer version) {
        return change.ofAppointment(clinicId, appointmentId, version, Set.of(), (appointment, closed) -> {
            Instant start = appointment.place().start();
            Optional<BookingRefusal> refusal = clock.now().isBefore(start)
                    ? Optional.of(BookingRefusal.notBeforeStart(
                            clock.local(clinicId, start).toLocalTime()))
                    : notSeen(appointment, appointment.missVisit());
            return change.recorded(appointment, refusal, "clock-did-not-attend", null);
        });
    }

    /** The patient came too late to be seen. */
    public BookingResult lateNotSeen(ClinicId clinicId, UUID appointmentId, @Nullable Integer version) {
        return onOpenDay(
                clinicId,
                appointmentId,
                version,
                appointment -> {
                    Instant now = clock.now();
                    if (now.isBefore(appointment.place().start())) {
                        return Optional.of(BookingRefusal.notBeforeStart(
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

    /** A check-in that was wrong. */
    public BookingResult undoCheckIn(ClinicId clinicId, UUID appointmentId) {
        return onOpenDay(clinicId, appointmentId, null, Appointment::undoArrival, "check-in-undone");
    }

    /** The last press since the name was called that was wrong, within two minutes of it. */
    public BookingResult undoPress(ClinicId clinicId, UUID appointmentId) {
        return onOpenDay(
                clinicId,
                appointmentId,
                null,
                appointment -> referralFollows(appointment, () -> appointment.undoPress(clock.now())),
                "press-undone");
    }

    /**
     * The patient says to come late: so many minutes after the booked start, or after now where that is over. The turn
     * follows from it.
     */
    public BookingResult willBeLate(ClinicId clinicId, UUID appointmentId, int minutes) {
        return onOpenDay(
                clinicId,
                appointmentId,
                null,
                appointment -> {
                    Instant start = appointment.place().start();
                    Instant from = clock.now().isAfter(start) ? clock.now().truncatedTo(ChronoUnit.MINUTES) : start;
                    Instant comes = from.plus(Duration.ofMinutes(minutes));
                    LocalDate date = appointment.place().date();
                    boolean today = date.equals(clock.today(clinicId))
                            && date.equals(clock.local(clinicId, comes).toLocalDate());
                    return today ? appointment.expectLate(comes) : Optional.of(BookingRefusal.of(TIME_NOT_OF_THE_DAY));
                },
                "will-be-late");
    }

    /**
     * Corrects the times.
     *
     * @param version the version that the person has seen
     */
    public BookingResult correct(ClinicId clinicId, UUID appointmentId, int version, VisitTimes times) {
        return onOpenDay(
                clinicId,
                appointmentId,
                version,
                appointment -> {
                    boolean ofAnotherDay = Stream.of(
                                    times.arrived(), times.calledIn(), times.finished(), times.roomReady())
                            .anyMatch(time -> time != null && !ofTheDay(appointment, time));
                    if (ofAnotherDay) {
                        return Optional.of(BookingRefusal.of(TIME_NOT_OF_THE_DAY));
                    }
                    boolean arrivesNow =
                            times.arrived() != null && appointment.times().arrived() == null;
                    return (arrivesNow ? redFlagUndecided(appointment) : Optional.<BookingRefusal>empty())
                            .or(() -> referralFollows(appointment, () -> appointment.correct(times)));
                },
                "times_corrected");
    }

    /** Records findings and outcome whatever is recorded already. */
    public BookingResult recordFindings(ClinicId clinicId, UUID appointmentId, Findings findings, String who) {
        return recordFindings(clinicId, appointmentId, null, findings, who);
    }

    /**
     * Records findings and outcome of a visit that has begun; a caution found becomes one of the patient.
     *
     * @param seen the {@linkplain Findings#version version} that the form carried; null where any will do
     * @param who the sign-in name of whoever records them
     */
    public BookingResult recordFindings(
            ClinicId clinicId, UUID appointmentId, @Nullable String seen, Findings findings, String who) {
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            Optional<Visit> visit = appointment.times().calledIn() == null ? Optional.empty() : records.of(appointment);
            if (visit.isEmpty()) {
                return BookingResult.refused(NOTHING_TO_RECORD);
            }
            if (seen != null && !Findings.version(visit).isSeen(seen)) {
                return BookingResult.refused(CHANGED_MEANWHILE);
            }
            findings.ears().forEach(visit.get()::recordFindings);
            findings.stoppedEarly().ifGiven(visit.get()::stop);
            if (findings.note() != null) {
                visit.get().note(findings.note());
            }
            findings.nextStep().ifGiven(visit.get()::decide);
            found.record(appointment, visit.get(), who);
            return change.stored(appointment, Optional.empty(), "findings-recorded", null);
        });
    }

    /** A referral is closed by the visit's end and open again when the end is removed. */
    private Optional<BookingRefusal> referralFollows(
            Appointment appointment, Supplier<Optional<BookingRefusal>> change) {
        boolean wasOver = appointment.times().finished() != null;
        Optional<BookingRefusal> refusal = change.get();
        boolean isOver = appointment.times().finished() != null;
        if (refusal.isEmpty() && wasOver != isOver) {
            bookingConsequences.setReferralStatus(appointment, isOver ? ReferralStatus.CLOSED : ReferralStatus.BOOKED);
        }
        return refusal;
    }

    private Optional<BookingRefusal> happen(Appointment appointment, ClockEvent event, Instant when) {
        return switch (event) {
            case ARRIVED -> arrive(appointment, when);
            case CALLED_IN -> callIn(appointment, when);
            case FINISHED -> finish(appointment, when);
            case ROOM_READY -> appointment.makeRoomReady(when);
        };
    }

    private Optional<BookingRefusal> arrive(Appointment appointment, Instant when) {
        Optional<BookingRefusal> refusal = planning.closedTo(
                        appointment.clinicId(), appointment.patientId().orElse(null))
                .or(() -> appointment.arrive(when, AppointmentStatus.CHECKED_IN));
        if (refusal.isEmpty()) {
            bookingConsequences.setReferralStatus(appointment, ReferralStatus.BOOKED);
        }
        return refusal;
    }

    private Optional<BookingRefusal> callIn(Appointment appointment, Instant when) {
        Optional<BookingRefusal> deceased = appointment.times().arrived() == null
                ? planning.deceased(
                        appointment.clinicId(), appointment.patientId().orElse(null))
                : Optional.empty();
        return deceased.or(() -> appointment.callIn(when));
    }

    private Optional<BookingRefusal> redFlagUndecided(Appointment appointment) {
        return planning.redFlagUndecided(
                appointment.clinicId(), appointment.patientId().orElse(null));
    }

    private Optional<BookingRefusal> finish(Appointment appointment, Instant when) {
        Optional<BookingRefusal> refusal = appointment.finish(when);
        if (refusal.isEmpty()) {
            bookingConsequences.setReferralStatus(appointment, ReferralStatus.CLOSED);
        }
        return refusal;
    }

    private Optional<BookingRefusal> notSeen(Appointment appointment, Optional<BookingRefusal> refusal) {
        if (refusal.isEmpty()) {
            bookingConsequences.bookAgain(appointment);
        }
        return refusal;
    }

    private boolean ofTheDay(Appointment appointment, Instant when) {
        LocalDate date = clock.local(appointment.clinicId(), when).toLocalDate();
        return date.equals(appointment.place().date()) && !when.isAfter(clock.now());
    }

    private BookingResult onOpenDay(
            ClinicId clinicId,
            UUID appointmentId,
            @Nullable Integer version,
            Function<Appointment, Optional<BookingRefusal>> verb,
            String what) {
        return change.ofAppointment(clinicId, appointmentId, version, Set.of(), (appointment, closed) -> {
            if (!closed.isEmpty()) {
                return BookingResult.refused(BookingRefusal.dayClosed(closed.get(0)));
            }
            return change.recorded(appointment, verb.apply(appointment), "clock-" + what.replace('_', '-'), null);
        });
    }

    private static String pressed(ClockEvent event) {
        return "clock-" + event.code().replace('_', '-');
    }
}
