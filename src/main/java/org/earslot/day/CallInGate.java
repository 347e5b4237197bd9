package org.earslot.day;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingRefusal;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Before a patient with an open red flag is called in: a practitioner who calls in has decided to see the patient here,
 * and that is recorded; anybody else, and a program, is told who decides.
 */
@Service
public class CallInGate {

    private final Appointments appointments;
    private final OpenRedFlags openRedFlags;
    private final RedFlagTriage triage;
    private final Referrals referrals;

    CallInGate(Appointments appointments, OpenRedFlags openRedFlags, RedFlagTriage triage, Referrals referrals) {
        this.appointments = appointments;
        this.openRedFlags = openRedFlags;
        this.triage = triage;
        this.referrals = referrals;
    }

    /**
     * Why the patient is not called in; empty if nothing is open, or whoever calls in is a practitioner.
     *
     * @param practitionerId the practitioner behind the account that calls in; null for none
     */
    @Transactional
    public Optional<BookingRefusal> refuses(
            ClinicId clinicId, UUID appointmentId, @Nullable UUID practitionerId, String who) {
        Optional<UUID> patient =
                appointments.findByClinicIdAndId(clinicId, appointmentId).flatMap(Appointment::patientId);
        if (patient.isEmpty() || !openRedFlags.hold(clinicId, patient.get())) {
            return Optional.empty();
        }
        if (practitionerId == null) {
            return Optional.of(BookingRefusal.redFlagOpen(openRedFlags
                    .undecided(clinicId, patient.get())
                    .flatMap(openRedFlags::clinician)
                    .orElse(null)));
        }
        openRedFlags
                .notUnderstood(clinicId, List.of(patient.get()))
                .forEach(referral -> triage.raise(referral, referral.details().redFlags(), practitionerId, who));
        openRedFlags.of(clinicId, patient.get()).stream()
                .filter(RedFlagCase::undecided)
                .forEach(one -> referrals
                        .findByClinicIdAndId(clinicId, one.referralId())
                        .ifPresent(referral -> triage.seeHere(referral, null, who)));
        return Optional.empty();
    }
}
