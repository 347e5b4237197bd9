package org.earslot.referral;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Stream;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.CautionSummary;
import org.earslot.caution.CautionTables;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.springframework.stereotype.Service;

/** Which methods suit a referral on a date: expiring cautions are judged on the appointment's own date. */
@Service
public class MethodSuitability {

    private final CautionTables tables;
    private final MethodOverrides overrides;
    private final PatientCautions cautions;

    MethodSuitability(CautionTables tables, MethodOverrides overrides, PatientCautions cautions) {
        this.tables = tables;
        this.overrides = overrides;
        this.cautions = cautions;
    }

    /** Every method with its verdict by the clinic's table, in the order of the trade's list. */
    public List<Suitability> judge(Referral referral, LocalDate date) {
        VisitRequest request = referral.details().request();
        return tables.of(referral.clinicId())
                .judge(withEarlier(referral, date), request.ears(), request.hearingTestFollows(), date);
    }

    /** One method with its verdict. */
    public Suitability judge(Referral referral, Method method, LocalDate date) {
        return judge(referral.clinicId(), referral.patientId(), referral.details(), method, date);
    }

    /** One method with its verdict for a referral that is still to be made of that patient. */
    public Suitability judge(ClinicId clinicId, UUID patientId, ReferralDetails said, Method method, LocalDate date) {
        return judge(clinicId, said.with(withEarlier(clinicId, patientId, said.cautions(), date)), method, date);
    }

    /** One method with its verdict by what is said alone; what was recorded earlier of the patient does not count. */
    public Suitability judge(ClinicId clinicId, ReferralDetails said, Method method, LocalDate date) {
        VisitRequest request = said.request();
        return tables.of(clinicId).judge(said.cautions(), request.ears(), request.hearingTestFollows(), method, date);
    }

    /** Whether the method may be used on that date: nothing forbids it, or a practitioner has overridden all that does. */
    public boolean allows(Referral referral, Method method, LocalDate date) {
        Suitability suits = judge(referral, method, date);
        return !suits.contraindicated() || overridden(referral, suits);
    }

    /** The codes of cautions that are not known here and that nobody has clarified. */
    public List<UnknownCode> unknownCautions(Referral referral) {
        return withEarlier(referral, referral.details().source().receivedOn()).unknown();
    }

    private CautionAnswers withEarlier(Referral referral, LocalDate date) {
        return withEarlier(
                referral.clinicId(), referral.patientId(), referral.details().cautions(), date);
    }

    /** What was recorded earlier counts, whatever is answered now, until a practitioner has corrected it. */
    private CautionAnswers withEarlier(ClinicId clinicId, UUID patientId, CautionAnswers said, LocalDate date) {
        CautionSummary known = cautions.summary(clinicId, patientId, said, date);
        List<AskedCaution> yes = Stream.of(
                        known.yes().stream(),
                        known.toConfirm().stream().map(PatientCaution::asked),
                        known.contradicted().stream().map(PatientCaution::asked))
                .flatMap(Function.identity())
                .toList();
        return new CautionAnswers(said.asked(), yes, said.notKnown(), known.unknown());
    }

    /** Whether a practitioner has overridden everything that forbids the method. */
    public boolean overridden(Referral referral, Suitability suits) {
        return overriding(referral, suits).isPresent();
    }

    /** The word of the practitioner who has overridden everything that forbids the method. */
    public Optional<MethodOverride> overriding(Referral referral, Suitability suits) {
        return overrides.standing(referral.clinicId(), referral.id()).stream()
                .filter(override -> override.overrides(suits))
                .findFirst();
    }
}
