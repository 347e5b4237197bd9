package org.earslot.referral;

import java.time.LocalDateTime;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/** The appointments of referrals, told by the room that keeps the diary. */
public interface ReferralAppointments {

    /**
     * One appointment.
     *
     * @param start clinic-local
     * @param status its code: {@code booked}, {@code cancelled} and so on
     */
    record Booked(UUID id, LocalDateTime start, String status) {}

    /** The appointments of a patient still to come, of whatever kind, the earliest start first. */
    List<Booked> toCome(UUID clinicId, UUID patientId);

    /** The next appointment of each of these patients, today's or later; without those who have none. */
    Map<UUID, Booked> next(UUID clinicId, Collection<UUID> patientIds);

    /** All appointments that a referral ever had, the earliest start first. */
    List<Booked> of(UUID clinicId, UUID referralId);
}
