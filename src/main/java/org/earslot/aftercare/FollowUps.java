package org.earslot.aftercare;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.aftercare.Attempts.Count;
import org.earslot.booking.Appointment;
import org.earslot.booking.FoundCautions;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.UnknownCode;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.referral.SoftenerRule;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What follows if an ear is not clear. The practitioner decides: enough is out, come again, or refer on. A follow-up is
 * judged with the cautions known before and those found, and sized with what was found.
 */
@Service
public class FollowUps {

    /** Softener before the next try: up to 5 days before irrigation (NICE NG98), 5 to 7 of oil before suction (leaflets). */
    private static final int SOFTENER_DAYS = 5;

    private final Visits visits;
    private final Referrals referrals;
    private final Patients patients;
    private final Practitioners practitioners;
    private final Attempts attempts;
    private final MethodSuitability suitability;
    private final Estimates estimates;
    private final Intake intake;
    private final FoundCautions found;
    private final StoredFollowUps stored;
    private final SoftenerRule softener;
    private final ClinicClock clock;

    FollowUps(
            Visits visits,
            Referrals referrals,
            Patients patients,
            Practitioners practitioners,
            Attempts attempts,
            MethodSuitability suitability,
            Estimates estimates,
            Intake intake,
            FoundCautions found,
            StoredFollowUps stored,
            SoftenerRule softener,
            ClinicClock clock) {
        this.visits = visits;
        this.referrals = referrals;
        this.patients = patients;
        this.practitioners = practitioners;
        this.attempts = attempts;
        this.suitability = suitability;
        this.estimates = estimates;
        this.intake = intake;
        this.found = found;
        this.stored = stored;
        this.softener = softener;
        this.clock = clock;
    }

    /**
     * What can follow.
     *
     * @param ears those not clear
     * @param decided what the practitioner decided; null while undecided
     * @param spent whether irrigation has failed twice in one of them, so that a third is not offered
     * @param ways the methods that are not contraindicated and for which somebody here is trained, the most suitable first
     * @param attempts by ear and method
     * @param cautions those known before and those found at the visit
     * @param unknown codes of cautions on record that are not known here
     * @param softener whether softener may be used before the next try
     * @param made the referral that follows already; null while there is none
     * @param deceased whether the patient has died since, so that no follow-up is made
     */
    public record Next(
            Ears ears,
            @Nullable NextStep decided,
            boolean spent,
            List<Way> ways,
            Map<Ear, Map<Method, Count>> attempts,
            List<AskedCaution> cautions,
            List<UnknownCode> unknown,
            SoftenerAdvice softener,
            @Nullable UUID made,
            boolean deceased) {

        /** The usual days of softener before it; null where it may not be used or a clinician is to be asked. */
        public @Nullable Integer softenerDays() {
            return softener.use() == SoftenerAdvice.Use.ALLOWED ? SOFTENER_DAYS : null;
        }

        /** Whether no method is left here. */
        public boolean nothingLeft() {
            return ways.isEmpty();
        }

        /** Whether the practitioner wants the patient to come again and no referral for it is made yet. */
        public boolean toBeMade() {
            return decided == NextStep.COME_AGAIN && made == null && !deceased;
        }

        /** Whether a follow-up by that method is on offer. */
        public boolean offers(Method method) {
            return decided == NextStep.COME_AGAIN && !deceased && ways.stream().anyMatch(way -> way.method() == method);
        }
    }

    /** A follow-up by one method: how it suits, and its length as of now. */
    public record Way(Method method, Suitability suits, Estimate estimate, List<String> heldBy) {}

    /** What can follow the visit of an appointment; empty if nothing has to. */
    @Transactional(readOnly = true)
    public Optional<Next> next(Appointment appointment) {
        UUID clinicId = appointment.clinicId();
        return visit(appointment)
                .flatMap(visit -> FollowUpDetails.open(visit).map(ears -> {
                    Map<Ear, Map<Method, Count>> tried = attempts.of(clinicId, visit.patientRef(), visit.date());
                    boolean spent = ears.each().stream().anyMatch(ear -> Attempts.irrigationSpent(tried.get(ear)));
                    FollowUpDetails details = details(appointment, visit);
                    List<Way> ways = ways(appointment, details, ears, spent);
                    return new Next(
                            ears,
                            visit.nextStep().orElse(null),
                            spent,
                            ways,
                            tried,
                            details.cautions(),
                            details.unknown(),
                            softener(appointment, details.by(visit.methodPlanned(), ears, null)),
                            stored.findByClinicIdAndVisitId(clinicId, visit.id())
                                    .map(FollowUp::referralId)
                                    .orElse(null),
                            deceased(appointment));
                }));
    }

    /**
     * Makes the referral that follows, of which the cautions are to be asked again; once a visit. Empty if there is nothing
     * to follow, the practitioner has not decided that the patient comes again, the patient has died, or the method is none
     * of those on offer.
     *
     * @param nothingNew whether a practitioner asked every red flag again today and all answers are no; if not, they are
     *     still to be asked
     */
    @Transactional
    public Optional<Referral> make(
            Appointment appointment, Method method, int softenerDays, boolean nothingNew, String who) {
        UUID clinicId = appointment.clinicId();
        Optional<Next> next = next(appointment).filter(one -> one.offers(method));
        if (next.isEmpty()) {
            return Optional.empty();
        }
        UUID made = next.get().made();
        if (made != null) {
            return referrals.findByClinicIdAndId(clinicId, made);
        }
        Visit visit = visit(appointment).orElseThrow();
        LocalDate notBefore = softenerDays == 0 ? null : clock.today(clinicId).plusDays(softenerDays);
        ReferralDetails told = details(appointment, visit).by(method, next.get().ears(), notBefore);
        ReferralDetails said = told.with(told.cautions().toAsk())
                .with(nothingNew ? new RedFlagAnswers(RedFlag.noneOfThese(), null) : RedFlagAnswers.NOT_ASKED);
        Referral referral = intake.takeIn(clinicId, visit.patientRef(), said, new Taker(who, null));
        stored.save(new FollowUp(clinicId, visit.id(), referral.id()));
        return Optional.of(referral);
    }

    private boolean deceased(Appointment appointment) {
        return appointment
                .patientId()
                .flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id))
                .filter(Patient::deceased)
                .isPresent();
    }

    private Optional<Visit> visit(Appointment appointment) {
        return appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(appointment.clinicId(), id));
    }

    private FollowUpDetails details(Appointment appointment, Visit visit) {
        UUID clinicId = appointment.clinicId();
        ReferralDetails before = appointment
                .referralId()
                .flatMap(id -> referrals.findByClinicIdAndId(clinicId, id))
                .map(Referral::details)
                .orElse(null);
        return new FollowUpDetails(visit, before, found.known(appointment), clock.today(clinicId));
    }

    private SoftenerAdvice softener(Appointment appointment, ReferralDetails said) {
        UUID clinicId = appointment.clinicId();
        return appointment
                .patientId()
                .map(patient ->
                        softener.advice(clinicId, patient, said, said.request().ears(), clock.today(clinicId)))
                .orElseGet(() -> SoftenerAdvice.ofNobodyKnown(said.request().ears()));
    }

    private List<Way> ways(Appointment appointment, FollowUpDetails details, Ears ears, boolean spent) {
        UUID clinicId = appointment.clinicId();
        LocalDate today = clock.today(clinicId);
        Patient patient = patients.known(clinicId, details.visit().patientRef()).orElse(null);
        List<Practitioner> staff = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .filter(one -> one.ages()
                        .includes(Optional.ofNullable(patient)
                                .flatMap(person -> person.details().ageOn(today))))
                .toList();
        List<Suitability> suited = Arrays.stream(Method.values())
                .filter(method -> !(spent && method == Method.IRRIGATION))
                .filter(method -> staff.stream().anyMatch(one -> one.methods().contains(method)))
                .map(method -> judged(appointment, details.by(method, ears, null), today))
                .filter(suits -> !suits.contraindicated())
                .sorted(Comparator.comparing((Suitability suits) -> suits.verdict())
                        .thenComparing(suits -> suits.reasons().size())
                        .thenComparing(Suitability::method))
                .toList();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                suited.stream()
                        .map(suits -> plan(details.by(suits.method(), ears, null), patient, details.visit()))
                        .toList());
        return IntStream.range(0, suited.size())
                .mapToObj(i -> new Way(
                        suited.get(i).method(),
                        suited.get(i),
                        each.get(i),
                        staff.stream()
                                .filter(one ->
                                        one.methods().contains(suited.get(i).method()))
                                .map(Practitioner::name)
                                .toList()))
                .toList();
    }

    private Suitability judged(Appointment appointment, ReferralDetails said, LocalDate today) {
        UUID clinicId = appointment.clinicId();
        Method method = said.request().methodPlanned();
        return appointment
                .patientId()
                .map(patient -> suitability.judge(clinicId, patient, said, method, today))
                .orElseGet(() -> suitability.judge(clinicId, said, method, today));
    }

    private static VisitPlan plan(ReferralDetails said, @Nullable Patient patient, Visit visit) {
        return new VisitPlan(
                visit.patientRef(),
                null,
                said.request().methodPlanned(),
                said.request().ears(),
                said.request().firstVisit(),
                patient == null ? visit.hearingAid() : patient.details().hearingAid(),
                said.cautions().confirmed(),
                said.request().softenerDays(),
                said.reported().byEar(),
                said.source().referrer());
    }
}
