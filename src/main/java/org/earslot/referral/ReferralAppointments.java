package org.earslot.referral;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** The appointments of referrals, told by the room that keeps the diary. */
public interface ReferralAppointments {

    /**
     * One appointment.
     *
     * @param referralId of the referral that it serves; null for none
     * @param start clinic-local
     * @param status its code: {@code booked}, {@code cancelled} and so on
     * @param toCome whether nobody has arrived, and it can be moved and cancelled
     * @param method null for another kind of visit, as are the ears
     * @param otherVisitKind the name of that kind; null for the removal of wax
     * @param attendance the code of what came of it; null while that is open
     */
    record Booked(
            UUID id,
            @Nullable UUID referralId,
            LocalDateTime start,
            int slotMinutes,
            String status,
            boolean toCome,
            boolean confirmed,
            String practitioner,
            String room,
            @Nullable Ears ears,
            @Nullable Method method,
            @Nullable String otherVisitKind,
            @Nullable String attendance) {

        /** Which status mark it carries. */
        public String mark() {
            if (toCome) {
                return "booked";
            }
            return switch (status) {
                case "arrived", "checked-in" -> "here";
                case "fulfilled" -> "done";
                default -> "off";
            };
        }
    }

    /**
     * A visit in the log without an appointment here, as by an import.
     *
     * @param attendance its code; null if not known
     */
    record Logged(
            LocalDate date,
            String practitioner,
            Ears ears,
            Method method,
            @Nullable String attendance) {}

    /** All appointments of a patient, of whatever kind, the latest start first. */
    List<Booked> ofPatient(ClinicId clinicId, UUID patientId);

    /** The visits in the log under that local number that never had an appointment here, the latest first. */
    List<Logged> logged(ClinicId clinicId, String localNumber);

    /** The next appointment of each of these patients, today's or later; without those who have none. */
    Map<UUID, Booked> next(ClinicId clinicId, Collection<UUID> patientIds);

    /** The latest appointment of each of these referrals; without those that never had one. */
    Map<UUID, Booked> latest(ClinicId clinicId, Collection<UUID> referralIds);

    /** All appointments that a referral ever had, the earliest start first. */
    List<Booked> of(ClinicId clinicId, UUID referralId);
}
