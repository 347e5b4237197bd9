package org.earslot.booking;

import static org.earslot.booking.BookingRefusalCode.NO_REASON;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Supplier;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.Planning.Planned;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.ReferralStatus;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/** Books, moves and calls off, so that nobody is booked where somebody is. */
@Service
public class Booking {

    /** A booking may be taken back for this long. */
    public static final Duration UNDO_WITHIN = Duration.ofMinutes(10);

    private final DiaryChange change;
    private final RowLocks locks;
    private final Planning planning;
    private final PlaceRules rules;
    private final PortableEquipment units;
    private final Appointments appointments;
    private final BookingConsequences bookingConsequences;
    private final SuitabilityCheck suitabilityCheck;
    private final ClinicClock clock;

    Booking(
            DiaryChange change,
            RowLocks locks,
            Planning planning,
            PlaceRules rules,
            PortableEquipment units,
            Appointments appointments,
            BookingConsequences bookingConsequences,
            SuitabilityCheck suitabilityCheck,
            ClinicClock clock) {
        this.change = change;
        this.locks = locks;
        this.planning = planning;
        this.rules = rules;
        this.units = units;
        this.appointments = appointments;
        this.bookingConsequences = bookingConsequences;
        this.suitabilityCheck = suitabilityCheck;
        this.clock = clock;
    }

    /**
     * Books what is asked for.
     *
     * @param who the sign-in name of whoever books
     */
    public BookingResult book(ClinicId clinicId, BookingRequest request, String who) {
        return book(clinicId, request, who, Optional::empty);
    }

    /**
     * Books what is asked for.
     *
     * @param lastly why not after all: asked once everything else allows it, while the day is held
     */
    public BookingResult book(
            ClinicId clinicId, BookingRequest request, String who, Supplier<Optional<BookingRefusal>> lastly) {
        return change.whole(() -> {
            locks.holdReferral(clinicId, referralOf(request));
            Planned planned = planning.plan(clinicId, request);
            List<BookingRefusal> refusals = new ArrayList<>(planned.refusals());
            if (!(request instanceof OfFitIn)) {
                refusals.addAll(rules.broken(
                        clinicId,
                        planned.place(),
                        planned.visit() == null ? null : planned.visit().method(),
                        planned.visit() == null ? null : planned.visit().patientId()));
            } else {
                refusals.addAll(rules.brokenByFitIn(clinicId, planned.place(), planned.visit()));
            }
            return refusals.isEmpty() ? place(clinicId, request, planned, who, lastly) : new NotDone(refusals);
        });
    }

    /**
     * Puts an appointment somewhere else.
     *
     * @param version the version that whoever asks has seen
     */
    public BookingResult move(ClinicId clinicId, UUID appointmentId, int version, AskedPlace asked) {
        return move(clinicId, appointmentId, version, asked, Optional::empty);
    }

    /**
     * Puts an appointment somewhere else.
     *
     * @param version the version that whoever asks has seen
     * @param lastly why not after all: asked once everything else allows it, while the days are held
     */
    public BookingResult move(
            ClinicId clinicId,
            UUID appointmentId,
            int version,
            AskedPlace asked,
            Supplier<Optional<BookingRefusal>> lastly) {
        return onAppointment(clinicId, appointmentId, version, Set.of(asked.date()), appointment -> {
            List<BookingRefusal> refusals = new ArrayList<>();
            if (!appointment.status().toCome()) {
                return BookingResult.refused(BookingRefusal.notNow("move", appointment.status()));
            }
            planning.closedTo(clinicId, appointment.patientId().orElse(null)).ifPresent(refusals::add);
            refusals.addAll(planning.stillSuits(appointment, asked.date()));
            refusals.addAll(rules.broken(
                    clinicId,
                    asked,
                    appointment.planned().method(),
                    appointment.patientId().orElse(null)));
            BookedPlace place = rules.onTheClock(clinicId, asked);
            if (refusals.isEmpty()) {
                rules.taken(clinicId, place, appointmentId)
                        .or(() -> units.taken(appointment, place))
                        .or(lastly)
                        .ifPresent(refusals::add);
            }
            if (!refusals.isEmpty()) {
                return new NotDone(refusals);
            }
            PlannedVisit planned = planning.doneBy(appointment, asked.practitionerId());
            String from = "from " + said(clinicId, appointment.place());
            return change.recorded(
                    appointment,
                    appointment.moveTo(place, planned.estimate(), planned.estimateVersion()),
                    "appointment-moved",
                    from + " to " + said(clinicId, place));
        });
    }

    /** Calls an appointment off, for a reason. */
    public BookingResult cancel(ClinicId clinicId, UUID appointmentId, int version, CancelledBy by, String why) {
        if (why.isBlank()) {
            return BookingResult.refused(NO_REASON);
        }
        return onAppointment(clinicId, appointmentId, version, Set.of(), appointment -> {
            Optional<BookingRefusal> refusal = appointment.cancel(by, why.strip());
            if (refusal.isEmpty()) {
                bookingConsequences.bookAgain(appointment);
            }
            return change.recorded(appointment, refusal, "appointment-cancelled", "by " + by.code());
        });
    }

    /** The patient has said to come. */
    public BookingResult confirm(ClinicId clinicId, UUID appointmentId, int version) {
        return onAppointment(
                clinicId,
                appointmentId,
                version,
                Set.of(),
                appointment -> change.stored(appointment, appointment.confirm(), "appointment-confirmed", null));
    }

    /** It should never have been there. */
    public BookingResult enterInError(ClinicId clinicId, UUID appointmentId, int version) {
        return onAppointment(clinicId, appointmentId, version, Set.of(), appointment -> {
            Optional<BookingRefusal> refusal = appointment.enterInError();
            if (refusal.isEmpty()) {
                bookingConsequences.bookAgain(appointment);
            }
            return change.stored(appointment, refusal, "appointment-entered-in-error", null);
        });
    }

    /** Takes back what {@code who} booked just now. */
    public BookingResult undo(ClinicId clinicId, UUID appointmentId, int version, String who) {
        boolean own = appointments
                .findByClinicIdAndId(clinicId, appointmentId)
                .map(appointment -> mayUndo(appointment, who))
                .orElse(true);
        return own
                ? enterInError(clinicId, appointmentId, version)
                : BookingResult.refused(BookingRefusal.notNow("undo", AppointmentStatus.BOOKED));
    }

    /** Whether {@code who} may still take the booking back: own, not older than {@link #UNDO_WITHIN}, not moved since. */
    public boolean mayUndo(Appointment appointment, String who) {
        Instant now = clock.now();
        return appointment.version() == 0
                && appointment.status() == AppointmentStatus.BOOKED
                && appointment.bookedBy().equals(who)
                && !now.isAfter(appointment.bookedAt().plus(UNDO_WITHIN));
    }

    private BookingResult place(
            ClinicId clinicId,
            BookingRequest request,
            Planned planned,
            String who,
            Supplier<Optional<BookingRefusal>> lastly) {
        BookedPlace place = rules.onTheClock(clinicId, planned.place());
        if (!locks.holdDays(clinicId, Set.of(place.date())).isEmpty()) {
            return BookingResult.refused(BookingRefusal.dayClosed(place.date()));
        }
        UUID id = UUID.randomUUID();
        Appointment appointment;
        if (request instanceof OfFitIn fitIn) {
            appointment = Appointment.fitIn(
                    id, clinicId, planned.agreed(), place, fitIn.reason().strip(), who, clock.now());
        } else {
            Optional<BookingRefusal> taken = rules.taken(clinicId, place, null)
                    .or(() -> units.taken(clinicId, place, planned.agreed().method()))
                    .or(lastly);
            if (taken.isPresent()) {
                return BookingResult.refused(taken.get());
            }
            appointment = Appointment.booked(id, clinicId, planned.agreed(), place, who, clock.now());
        }
        suitabilityCheck.recordOn(appointment);
        appointments.saveAndFlush(appointment);
        bookingConsequences.setReferralStatus(appointment, ReferralStatus.BOOKED);
        change.announce(appointment, "appointment-booked", "at " + said(clinicId, place));
        return new Done(id, appointment.version());
    }

    private BookingResult onAppointment(
            ClinicId clinicId,
            UUID appointmentId,
            int version,
            Set<LocalDate> moreDays,
            Function<Appointment, BookingResult> verb) {
        return change.ofAppointment(
                clinicId,
                appointmentId,
                version,
                moreDays,
                (appointment, closed) -> closed.isEmpty()
                        ? verb.apply(appointment)
                        : BookingResult.refused(BookingRefusal.dayClosed(closed.get(0))));
    }

    private String said(ClinicId clinicId, BookedPlace place) {
        return clock.local(clinicId, place.start()) + ", " + place.slotMinutes() + " min";
    }

    private static @Nullable UUID referralOf(BookingRequest request) {
        if (request instanceof OfReferral asked) {
            return asked.referralId();
        }
        return request instanceof OfFitIn asked ? asked.referralId() : null;
    }
}
