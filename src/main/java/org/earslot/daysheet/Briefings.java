package org.earslot.daysheet;

import java.time.LocalDate;
import java.time.Period;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.CautionSummary;
import org.earslot.caution.PatientCautions;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.day.DaySchedule.Line;
import org.earslot.daysheet.Briefing.Overridden;
import org.earslot.daysheet.Briefing.RedFlagState;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.SoftenerRule;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Puts together what a practitioner should know before each visit. */
@Component
class Briefings {

    private final Patients patients;
    private final MethodSuitability suitability;
    private final RedFlagTriage triage;
    private final OpenRedFlags openRedFlags;
    private final PatientCautions cautions;
    private final SoftenerRule softener;
    private final EarHistory history;
    private final Practitioners practitioners;

    Briefings(
            Patients patients,
            MethodSuitability suitability,
            RedFlagTriage triage,
            OpenRedFlags openRedFlags,
            PatientCautions cautions,
            SoftenerRule softener,
            EarHistory history,
            Practitioners practitioners) {
        this.patients = patients;
        this.suitability = suitability;
        this.triage = triage;
        this.openRedFlags = openRedFlags;
        this.cautions = cautions;
        this.softener = softener;
        this.history = history;
        this.practitioners = practitioners;
    }

    /**
     * The briefing for one line of the diary.
     *
     * @param referral what the visit is for; null for a fit-in without one, or another kind of visit
     * @param trays the clinic's tray rules
     */
    Briefing of(ClinicId clinicId, LocalDate date, Line line, @Nullable Referral referral, List<TrayRule> trays) {
        ReferralDetails said = referral == null ? null : referral.details();
        Method method = line.what().method();
        Ears ears = line.what().ears();
        List<Ear> each = ears == null ? List.of() : ears.each();
        PatientDetails person = person(clinicId, line);
        CautionSummary known = known(clinicId, line, said, date);
        Optional<Suitability> suits = referral == null || method == null
                ? Optional.empty()
                : Optional.of(suitability.judge(referral, method, date)).filter(Suitability::contraindicated);
        Overridden overridden =
                suits.flatMap(judged -> overridden(clinicId, referral, judged)).orElse(null);
        Map<Ear, EarFindings> reported = reported(said, each);
        return new Briefing(
                person,
                age(person, date),
                redFlags(clinicId, line, referral),
                said == null ? List.of() : said.redFlags().notes(),
                person.consentNotKnownOn(date),
                known,
                overridden != null
                        ? List.of()
                        : suits.map(Suitability::forbiddenBy).orElse(List.of()),
                overridden,
                reported,
                method == null || said == null
                        ? List.of()
                        : TrayRules.trays(
                                trays,
                                method,
                                each.stream().map(said.reported()::of).toList()),
                method == null || ears == null ? null : softener.advice(known, ears, date),
                SoftenerAdvice.usualBefore(method),
                said == null ? null : said.request().softenerDays(),
                history.lastTimes(clinicId, line.who().localNumber(), each, date));
    }

    private PatientDetails person(ClinicId clinicId, Line line) {
        UUID id = line.who().patientId();
        return id == null
                ? PatientDetails.UNKNOWN
                : patients.findByClinicIdAndId(clinicId, id)
                        .map(Patient::details)
                        .orElse(PatientDetails.UNKNOWN);
    }

    private CautionSummary known(ClinicId clinicId, Line line, @Nullable ReferralDetails said, LocalDate date) {
        UUID id = line.who().patientId();
        return id == null
                ? CautionSummary.OF_NOBODY_KNOWN
                : cautions.summary(clinicId, id, said == null ? CautionAnswers.NOT_ASKED : said.cautions(), date);
    }

    private static @Nullable Integer age(PatientDetails person, LocalDate date) {
        LocalDate born = person.dateOfBirth();
        return born == null ? null : Period.between(born, date).getYears();
    }

    private RedFlagState redFlags(ClinicId clinicId, Line line, @Nullable Referral referral) {
        UUID patientId = line.who().patientId();
        if (patientId != null
                && (!openRedFlags.of(clinicId, patientId).isEmpty() || openRedFlags.hold(clinicId, patientId))) {
            return RedFlagState.OPEN;
        } else if (line.what().method() == null) {
            return RedFlagState.SETTLED;
        }
        if (referral != null && !triage.notUnderstood(referral).isEmpty()) {
            return RedFlagState.OPEN;
        }
        return referral != null && triage.stillToAsk(referral).isEmpty()
                ? RedFlagState.SETTLED
                : RedFlagState.NOT_ASKED;
    }

    private Optional<Overridden> overridden(ClinicId clinicId, @Nullable Referral referral, Suitability suits) {
        return referral == null
                ? Optional.empty()
                : suitability
                        .overriding(referral, suits)
                        .map(word -> new Overridden(
                                practitioners
                                        .findByClinicIdAndId(clinicId, word.practitionerId())
                                        .map(Practitioner::name)
                                        .orElse("–"),
                                suits.forbiddenBy(),
                                word.reason()));
    }

    private static Map<Ear, EarFindings> reported(@Nullable ReferralDetails said, List<Ear> ears) {
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        if (said != null) {
            ears.stream()
                    .filter(ear -> !said.reported().of(ear).equals(EarFindings.UNKNOWN))
                    .forEach(ear -> reported.put(ear, said.reported().of(ear)));
        }
        return reported;
    }
}
