package org.earslot.offers;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;

import java.time.LocalDate;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicId;
import org.springframework.stereotype.Component;

/** Several appointments held at once, in the order everybody keeps to, so that no two changes wait for each other. */
@Component
class HeldAppointments {

    private final RowLocks locks;
    private final Appointments appointments;

    HeldAppointments(RowLocks locks, Appointments appointments) {
        this.locks = locks;
        this.appointments = appointments;
    }

    /** Holds every row that the change touches, in the order everyone keeps to, then makes it. */
    BookingResult with(
            ClinicId clinicId,
            Set<UUID> ids,
            Set<LocalDate> moreDays,
            Function<List<Appointment>, BookingResult> verb) {
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
}
