package org.earslot.day;

import java.util.Objects;
import java.util.Optional;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingConsequences;
import org.earslot.booking.PlannedVisit;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;

/** The referral that an appointment serves. */
@Component
class ServedReferrals {

    private final Referrals referrals;
    private final Patients patients;
    private final UnreferredVisits unreferred;
    private final BookingConsequences bookingConsequences;

    ServedReferrals(
            Referrals referrals,
            Patients patients,
            UnreferredVisits unreferred,
            BookingConsequences bookingConsequences) {
        this.referrals = referrals;
        this.patients = patients;
        this.unreferred = unreferred;
        this.bookingConsequences = bookingConsequences;
    }

    Optional<Referral> of(Appointment appointment) {
        return appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
    }

    /** The same, made for wax that came without one; empty for another kind of visit. */
    Optional<Referral> ofOrMade(Appointment appointment, String who) {
        return of(appointment).or(() -> made(appointment, who));
    }

    private Optional<Referral> made(Appointment appointment, String who) {
        return appointment
                .patientId()
                .filter(patient -> appointment.isWaxWithoutReferral())
                .flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id))
                .map(patient -> {
                    PlannedVisit planned = appointment.planned();
                    Referral referral = unreferred.referral(
                            patient,
                            appointment.fitInReason(),
                            Objects.requireNonNull(planned.method()),
                            Objects.requireNonNull(planned.ears()),
                            who);
                    appointment.serve(referral.id());
                    bookingConsequences.setReferralStatus(appointment, ReferralStatus.BOOKED);
                    return referral;
                });
    }
}
