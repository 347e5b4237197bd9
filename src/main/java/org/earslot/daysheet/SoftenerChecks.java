package org.earslot.daysheet;

import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What the patient says of softener on the phone, the morning before the visit. */
@Service
public class SoftenerChecks {

    private final Appointments appointments;
    private final Referrals referrals;
    private final Patients patients;
    private final Intake intake;
    private final ApplicationEventPublisher events;

    SoftenerChecks(
            Appointments appointments,
            Referrals referrals,
            Patients patients,
            Intake intake,
            ApplicationEventPublisher events) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.patients = patients;
        this.intake = intake;
        this.events = events;
    }

    /** Records so many days of softener in the appointment's referral, as {@code who} was told; whether there is one. */
    @Transactional
    public boolean confirm(ClinicId clinicId, UUID appointmentId, int days, String who) {
        Optional<Referral> amended = appointments
                .findByClinicIdAndId(clinicId, appointmentId)
                .flatMap(Appointment::referralId)
                .flatMap(id -> referrals.findByClinicIdAndId(clinicId, id))
                .flatMap(referral -> patients.findByClinicIdAndId(clinicId, referral.patientId())
                        .map(patient -> {
                            ReferralDetails said = referral.details();
                            intake.amend(
                                    referral,
                                    said.with(said.request().withSoftenerDays(days)),
                                    new Intake.Taker(who, null));
                            return referral;
                        }));
        amended.ifPresent(referral -> events.publishEvent(new Audited.Entry(
                        clinicId,
                        "softener-confirmed",
                        "referral",
                        referral.id().toString(),
                        days + " days")
                .about(referral.patientId())));
        return amended.isPresent();
    }
}
