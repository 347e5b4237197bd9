package org.earslot.diary;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.diary.Attempts.Count;
import org.earslot.ear.Answer;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Origin;
import org.earslot.referral.Patient;
import org.earslot.referral.PatientDetails;
import org.earslot.referral.Patients;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlag;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What follows where an ear is not clear: another visit, sized with what was found, or referral on. */
@Service
public class FollowUps {

    /** Softener before the next try: up to 5 days before irrigation (NICE NG98), 5 to 7 of oil before suction (leaflets). */
    public static final int SOFTENER_DAYS = 5;

    private static final Set<Outcome> OPEN =
            Set.of(Outcome.RESIDUAL, Outcome.NOT_REMOVED, Outcome.NOT_ATTEMPTED, Outcome.UNSUITABLE_ON_DAY);

    private final Visits visits;
    private final Referrals referrals;
    private final Patients patients;
    private final Practitioners practitioners;
    private final Attempts attempts;
    private final MethodSuitability suitability;
    private final Estimates estimates;
    private final Intake intake;
    private final StoredFollowUps stored;
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
            StoredFollowUps stored,
            ClinicClock clock) {
        this.visits = visits;
        this.referrals = referrals;
        this.patients = patients;
        this.practitioners = practitioners;
        this.attempts = attempts;
        this.suitability = suitability;
        this.estimates = estimates;
        this.intake = intake;
        this.stored = stored;
        this.clock = clock;
    }

    /**
     * What can follow.
     *
     * @param ears those not clear
     * @param spent whether irrigation has failed twice in one of them, so that another method is due
     * @param ways the methods that suit and someone here holds; none: refer on
     * @param attempts by ear and method
     * @param taken the referral that follows already; null while there is none
     */
    public record Next(
            Ears ears,
            boolean spent,
            List<Way> ways,
            Map<Ear, Map<Method, Count>> attempts,
            @Nullable UUID taken) {

        /** Whether there is nothing left to do here. */
        public boolean referOn() {
            return ways.isEmpty();
        }
    }

    /** A follow-up by one method, with its length as of now. */
    public record Way(Method method, Estimate estimate, List<String> heldBy) {}

    /** What can follow the visit of an appointment; empty where nothing has to. */
    @Transactional(readOnly = true)
    public Optional<Next> next(Appointment appointment) {
        UUID clinicId = appointment.clinicId();
        Optional<Visit> found = appointment
                .visitId()
                .flatMap(id -> visits.findByClinicIdAndId(clinicId, id))
                .filter(visit -> open(visit).isPresent());
        return found.map(visit -> {
            Ears ears = open(visit).orElseThrow();
            Map<Ear, Map<Method, Count>> tried = attempts.of(clinicId, visit.patientRef(), visit.date());
            boolean spent = ears.each().stream().anyMatch(ear -> Attempts.irrigationSpent(tried.get(ear)));
            return new Next(
                    ears,
                    spent,
                    ways(appointment, visit, ears, spent),
                    tried,
                    stored.findByClinicIdAndVisitId(clinicId, visit.id())
                            .map(FollowUp::referralId)
                            .orElse(null));
        });
    }

    /**
     * Takes in the referral that follows; once a visit. Empty where there is nothing to follow or the method is none of the
     * ways left.
     *
     * @param nothingNew whether a practitioner asked every red flag again today and all answers are no; if not, they are
     *     still to be asked
     */
    @Transactional
    public Optional<Referral> take(
            Appointment appointment, Method method, int softenerDays, boolean nothingNew, String who) {
        Optional<Next> next = next(appointment);
        if (next.isEmpty() || next.get().ways().stream().noneMatch(way -> way.method() == method)) {
            return Optional.empty();
        }
        UUID clinicId = appointment.clinicId();
        UUID taken = next.get().taken();
        if (taken != null) {
            return referrals.findByClinicIdAndId(clinicId, taken);
        }
        Visit visit = visits.findByClinicIdAndId(clinicId, appointment.visitId().orElseThrow())
                .orElseThrow();
        LocalDate notBefore = softenerDays == 0 ? null : clock.today(clinicId).plusDays(softenerDays);
        ReferralDetails said = said(appointment, visit, next.get().ears(), method, notBefore)
                .withRedFlags(nothingNew ? RedFlag.noneOfThese() : Map.of());
        Referral referral =
                intake.takeIn(clinicId, visit.patientRef(), PatientDetails.UNKNOWN, said, new Taker(who, null));
        stored.save(new FollowUp(clinicId, visit.id(), referral.id()));
        return Optional.of(referral);
    }

    private List<Way> ways(Appointment appointment, Visit visit, Ears ears, boolean spent) {
        UUID clinicId = appointment.clinicId();
        LocalDate today = clock.today(clinicId);
        List<Practitioner> staff = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .toList();
        Patient patient = patients.known(clinicId, visit.patientRef()).orElse(null);
        List<Method> methods = Arrays.stream(Method.values())
                .filter(method -> !(spent && method == Method.IRRIGATION))
                .filter(method -> staff.stream().anyMatch(one -> one.methods().contains(method)))
                .filter(method -> !suitability
                        .judge(clinicId, said(appointment, visit, ears, method, null), method, today)
                        .contraindicated())
                .sorted(Comparator.comparing(method -> method != visit.methodPlanned()))
                .toList();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                methods.stream()
                        .map(method -> plan(said(appointment, visit, ears, method, null), patient, visit))
                        .toList());
        return IntStream.range(0, methods.size())
                .mapToObj(i -> new Way(
                        methods.get(i),
                        each.get(i),
                        staff.stream()
                                .filter(one -> one.methods().contains(methods.get(i)))
                                .map(Practitioner::name)
                                .toList()))
                .toList();
    }

    private static VisitPlan plan(ReferralDetails said, @Nullable Patient patient, Visit visit) {
        return new VisitPlan(
                visit.patientRef(),
                null,
                said.methodPlanned(),
                said.ears(),
                said.firstVisit(),
                patient == null ? visit.hearingAid() : patient.details().hearingAid(),
                visit.cautions(),
                said.softenerDays(),
                said.reported(),
                said.referrer());
    }

    /** What the referral that follows says: what was found is now known, what was not found stays as reported. */
    private ReferralDetails said(
            Appointment appointment, Visit visit, Ears ears, Method method, @Nullable LocalDate notBefore) {
        Optional<ReferralDetails> before = appointment
                .referralId()
                .flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id))
                .map(Referral::details);
        Map<Ear, EarFindings> known = new EnumMap<>(Ear.class);
        for (Ear ear : Ear.values()) {
            known.put(ear, completed(visit.found(ear), visit.reported(ear)));
        }
        return new ReferralDetails(
                visit.referrer().orElse(null),
                clock.today(appointment.clinicId()),
                before.map(ReferralDetails::reason).orElse(null),
                Priority.ROUTINE,
                ears,
                method,
                Answer.NO,
                null,
                notBefore,
                told(visit, ears),
                before.map(ReferralDetails::mustFollow).orElse(null),
                before.map(ReferralDetails::mustFollowBy).orElse(null),
                null,
                before.map(ReferralDetails::cautionsAsked).orElse(false),
                before.map(ReferralDetails::cautions).orElse(List.of()),
                known,
                Map.of(),
                before.map(ReferralDetails::cautionsNotKnown).orElse(Set.of()),
                Origin.REFERRAL,
                before.map(ReferralDetails::shortNotice).orElse(Answer.NOT_KNOWN));
    }

    /** "2026-03-04: right irrigation, irrigation, residual": codes, as a note for whoever reads the referral. */
    private static String told(Visit visit, Ears ears) {
        List<String> told = new ArrayList<>();
        for (Ear ear : ears.each()) {
            List<String> words = new ArrayList<>(visit.methods(ear).stream()
                    .map(method -> method.code().replace('_', ' '))
                    .toList());
            visit.outcome(ear).ifPresent(outcome -> words.add(outcome.code().replace('_', ' ')));
            told.add(ear.code() + ": " + String.join(", ", words));
        }
        return visit.date() + ", " + String.join("; ", told);
    }

    private static EarFindings completed(EarFindings found, EarFindings reported) {
        return new EarFindings(
                found.wax() == null ? reported.wax() : found.wax(),
                found.canal() == null ? reported.canal() : found.canal(),
                found.depth() == null ? reported.depth() : found.depth(),
                found.occlusion() == null ? reported.occlusion() : found.occlusion());
    }

    private static Optional<Ears> open(Visit visit) {
        boolean right = visit.outcome(Ear.RIGHT).filter(OPEN::contains).isPresent();
        boolean left = visit.outcome(Ear.LEFT).filter(OPEN::contains).isPresent();
        if (right && left) {
            return Optional.of(Ears.BOTH);
        }
        return right ? Optional.of(Ears.RIGHT) : left ? Optional.of(Ears.LEFT) : Optional.empty();
    }
}
