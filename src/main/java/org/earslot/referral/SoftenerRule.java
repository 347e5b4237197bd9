package org.earslot.referral;

import java.time.LocalDate;
import java.util.UUID;
import org.earslot.caution.CautionSummary;
import org.earslot.caution.PatientCautions;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ears;
import org.springframework.stereotype.Service;

/** Asks the one rule about softener of what is known of a patient. */
@Service
public class SoftenerRule {

    private final PatientCautions cautions;

    SoftenerRule(PatientCautions cautions) {
        this.cautions = cautions;
    }

    /**
     * What may be said about softener before a visit on {@code date}.
     *
     * @param ears those to be treated
     */
    public SoftenerAdvice advice(ClinicId clinicId, UUID patientId, ReferralDetails said, Ears ears, LocalDate date) {
        return advice(cautions.summary(clinicId, patientId, said.cautions(), date), ears, date);
    }

    /** The same for the patient of a referral, as the referral stands. */
    public SoftenerAdvice advice(Referral referral, Ears ears, LocalDate date) {
        return advice(referral.clinicId(), referral.patientId(), referral.details(), ears, date);
    }

    /** The same where the cautions are known already. */
    public SoftenerAdvice advice(CautionSummary known, Ears ears, LocalDate date) {
        return SoftenerAdvice.of(known, ears, date);
    }
}
