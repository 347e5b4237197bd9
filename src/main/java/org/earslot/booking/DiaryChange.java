package org.earslot.booking;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.SLOT_TAKEN;

import java.time.LocalDate;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.function.Supplier;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** One change of the diary as a whole: all of it or, if it is refused, nothing. */
@Component
public class DiaryChange {

    /** The second guards in the database; what breaks them is the same refusal as the first guard's. */
    private static final List<String> PLACE_GUARDS = List.of("appointment_practitioner_once", "appointment_room_once");

    private final TransactionTemplate transaction;
    private final RowLocks locks;
    private final Appointments appointments;
    private final VisitRecords records;
    private final ApplicationEventPublisher events;

    DiaryChange(
            PlatformTransactionManager transactions,
            RowLocks locks,
            Appointments appointments,
            VisitRecords records,
            ApplicationEventPublisher events) {
        this.transaction = new TransactionTemplate(transactions);
        this.locks = locks;
        this.appointments = appointments;
        this.records = records;
        this.events = events;
    }

    public BookingResult whole(Supplier<BookingResult> change) {
        try {
            return transaction.execute(status -> {
                BookingResult result = change.get();
                if (result instanceof NotDone && status.isNewTransaction()) {
                    status.setRollbackOnly();
                }
                return result;
            });
        } catch (DataIntegrityViolationException e) {
            if (breaksPlaceGuard(e)) {
                return BookingResult.refused(SLOT_TAKEN);
            }
            throw e;
        } catch (OptimisticLockingFailureException e) {
            return BookingResult.refused(CHANGED_MEANWHILE);
        }
    }

    /**
     * Holds all that a change of an appointment touches, then lets {@code verb} change it.
     *
     * @param version the version that the person or program has seen; null if any will do
     * @param moreDays days to hold besides the appointment's own
     */
    public BookingResult ofAppointment(
            ClinicId clinicId,
            UUID appointmentId,
            @Nullable Integer version,
            Set<LocalDate> moreDays,
            BiFunction<Appointment, List<LocalDate>, BookingResult> verb) {
        return whole(() -> {
            Optional<RowLocks.LockKeys> keys = locks.keysOf(clinicId, appointmentId);
            if (keys.isEmpty()) {
                return BookingResult.refused(BookingRefusal.unknown("appointment"));
            }
            Set<LocalDate> days = new HashSet<>(moreDays);
            days.add(keys.get().date());
            locks.holdReferral(clinicId, keys.get().referralId());
            List<LocalDate> closed = locks.holdDays(clinicId, days);
            locks.holdAppointment(clinicId, appointmentId);
            Appointment appointment =
                    appointments.findByClinicIdAndId(clinicId, appointmentId).orElseThrow();
            boolean other = version != null && appointment.version() != version;
            if (other || !appointment.place().date().equals(keys.get().date())) {
                return BookingResult.refused(CHANGED_MEANWHILE);
            }
            BookingResult result = verb.apply(appointment, closed);
            if (result instanceof Done) {
                days.forEach(day -> events.publishEvent(new DayChanged(clinicId, day)));
            }
            return result;
        });
    }

    /**
     * Stores an appointment after an event of its day or a move, with its row of the visit log, and announces it, unless
     * the change was refused.
     */
    public BookingResult recorded(
            Appointment appointment, Optional<BookingRefusal> refusal, String action, @Nullable String detail) {
        if (refusal.isEmpty()) {
            records.write(appointment);
        }
        return stored(appointment, refusal, action, detail);
    }

    /** Stores a changed appointment and announces it, unless the change was refused. */
    public BookingResult stored(
            Appointment appointment, Optional<BookingRefusal> refusal, String action, @Nullable String detail) {
        if (refusal.isPresent()) {
            return BookingResult.refused(refusal.get());
        }
        appointments.saveAndFlush(appointment);
        announce(appointment, action, detail);
        return new Done(appointment.id(), appointment.version());
    }

    /** Tells the audit trail, and those who look at the day. */
    public void announce(Appointment appointment, String action, @Nullable String detail) {
        events.publishEvent(
                new DayChanged(appointment.clinicId(), appointment.place().date()));
        events.publishEvent(new Audited.Entry(
                        appointment.clinicId(),
                        action,
                        "appointment",
                        appointment.id().toString(),
                        detail)
                .about(appointment.patientId().orElse(null)));
    }

    private static boolean breaksPlaceGuard(DataIntegrityViolationException e) {
        String said = String.valueOf(e.getMostSpecificCause().getMessage());
        return PLACE_GUARDS.stream().anyMatch(said::contains);
    }
}
