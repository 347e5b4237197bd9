package org.earslot.day;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.UnknownCode;
import org.earslot.patient.Patient;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;

/**
 * The referral that a fit-in serves, and what is asked for it: what is known of the patient, and what was answered now.
 */
@Component
class FitInReferrals {

    private final Referrals referrals;
    private final UnreferredVisits unreferred;
    private final Intake intake;
    private final PatientCautions cautions;
    private final ClinicClock clock;

    FitInReferrals(
            Referrals referrals,
            UnreferredVisits unreferred,
            Intake intake,
            PatientCautions cautions,
            ClinicClock clock) {
        this.referrals = referrals;
        this.unreferred = unreferred;
        this.intake = intake;
        this.cautions = cautions;
        this.clock = clock;
    }

    /** What is known of the patient's cautions today, with the day each was last said. */
    List<PatientCaution> known(ClinicId clinicId, UUID patientId) {
        return cautions.inForce(clinicId, patientId, clock.today(clinicId));
    }

    /** The codes of cautions on record that are not known here: to be clarified with the patient. */
    List<UnknownCode> unknown(ClinicId clinicId, UUID patientId) {
        return cautions.summary(clinicId, patientId, CautionAnswers.NOT_ASKED, clock.today(clinicId))
                .unknown();
    }

    /** The referral named; without one, a referral made with the reason. */
    Referral of(Patient patient, OfFitIn wish, String who) {
        return Optional.ofNullable(wish.referralId())
                .flatMap(id -> referrals.findByClinicIdAndId(patient.clinicId(), id))
                .orElseGet(() -> unreferred.referral(
                        patient,
                        Optional.of(wish.reason()),
                        Objects.requireNonNull(wish.method()),
                        Objects.requireNonNull(wish.ears()),
                        who));
    }

    /** Adds what was answered with yes now to what is known. */
    void addCautions(Referral referral, Collection<Caution> yes, String who) {
        intake.addCautions(referral, withKnown(referral.clinicId(), referral.patientId(), yes), new Taker(who, null));
    }

    /** Records what was answered to the red flags; the case that was raised, if one was. */
    Optional<RedFlagCase> answerRedFlags(Referral referral, RedFlagAnswers said, String who) {
        return intake.answerRedFlags(referral, said, new Taker(who, null));
    }

    private List<AskedCaution> withKnown(ClinicId clinicId, UUID patientId, Collection<Caution> yes) {
        List<AskedCaution> known =
                known(clinicId, patientId).stream().map(PatientCaution::asked).toList();
        List<AskedCaution> said = new ArrayList<>(known);
        yes.stream()
                .filter(caution -> known.stream().noneMatch(one -> one.caution() == caution))
                .forEach(caution -> said.add(new AskedCaution(caution, null, null)));
        return said;
    }
}
