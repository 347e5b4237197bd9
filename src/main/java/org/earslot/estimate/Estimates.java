package org.earslot.estimate;

import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.duration.Prediction;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.ear.Answer;
import org.earslot.ear.Ear;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/** Estimates on request, by the fit in force; by what is assumed of any clinic where there is none. */
@Service
public class Estimates {

    private final ActiveModelProvider inForce;
    private final Policies policies;
    private final Practitioners practitioners;
    private final ClinicClock clock;

    Estimates(ActiveModelProvider inForce, Policies policies, Practitioners practitioners, ClinicClock clock) {
        this.inForce = inForce;
        this.policies = policies;
        this.practitioners = practitioners;
        this.clock = clock;
    }

    /** How long this visit will take. */
    public Estimate estimate(ClinicId clinicId, VisitPlan plan) {
        return estimateAll(clinicId, List.of(plan)).get(0);
    }

    /** The same for many, in order. */
    public List<Estimate> estimateAll(ClinicId clinicId, List<VisitPlan> plans) {
        return estimateAll(clinicId, plans, inForce.of(clinicId));
    }

    /** The same by a model that is not in force. */
    List<Estimate> estimateAll(ClinicId clinicId, List<VisitPlan> plans, ActiveModel learnt) {
        PolicyTerms policy = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        Map<UUID, Practitioner> known = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .collect(Collectors.toMap(Practitioner::id, Function.identity()));
        long today = clock.today(clinicId).toEpochDay();
        // Equal plans have equal estimates; each is worked out once.
        Map<VisitPlan, Estimate> estimates = plans.parallelStream()
                .distinct()
                .collect(Collectors.toConcurrentMap(
                        Function.identity(),
                        plan -> estimated(plan, learnt, policy, practitioner(plan, known), today)));
        return plans.stream().map(estimates::get).toList();
    }

    /** The version of the fit that estimates rest on now. */
    public String version(ClinicId clinicId) {
        return inForce.of(clinicId).version();
    }

    /** The times in room alone, in order, without why and what to ask: much less work. */
    public List<MinutesDistribution> timesInRoom(ClinicId clinicId, List<VisitPlan> plans) {
        ActiveModel learnt = inForce.of(clinicId);
        long today = clock.today(clinicId).toEpochDay();
        return plans.stream()
                .map(plan -> learnt.model()
                        .predict(learnt.terms().plan(plan, null, null, today))
                        .inRoom())
                .toList();
    }

    private static @Nullable Practitioner practitioner(VisitPlan plan, Map<UUID, Practitioner> known) {
        return plan.practitionerId() == null ? null : known.get(plan.practitionerId());
    }

    private static Estimate estimated(
            VisitPlan plan, ActiveModel learnt, PolicyTerms policy, @Nullable Practitioner practitioner, long today) {
        String name = practitioner == null ? null : practitioner.id().toString();
        Ear hand = practitioner == null ? null : practitioner.dominantHand().orElse(null);
        Prediction prediction = predicted(plan, learnt, name, hand, today);
        return new Estimate(
                learnt.version(),
                prediction.completion(),
                prediction.inRoom(),
                SlotLengths.minutes(prediction.inRoom(), plan.method(), plan.ears(), policy),
                policy.turnaroundMinutes(plan.method()),
                prediction.why().stream().map(item -> whyLine(item, plan)).toList(),
                prediction.ask().stream().map(Estimates::question).toList(),
                learnt.restsOn(),
                prediction.sharedSdLog());
    }

    /** Of somebody whose own past visits count it is never open whether this is the first. */
    private static Prediction predicted(
            VisitPlan plan, ActiveModel learnt, @Nullable String name, @Nullable Ear hand, long today) {
        Prediction asPlanned = learnt.model().predict(learnt.terms().plan(plan, name, hand, today));
        boolean seenBefore = plan.firstVisit() == Answer.NOT_KNOWN
                && plan.patientRef() != null
                && asPlanned.why().stream().anyMatch(item -> item.kind() == ItemKind.PERSON && item.minutes() != 0);
        return seenBefore
                ? learnt.model().predict(learnt.terms().plan(plan.notTheFirst(), name, hand, today))
                : asPlanned;
    }

    private static WhyLine whyLine(Prediction.Item item, VisitPlan plan) {
        String subject = item.kind() == ItemKind.PART ? plan.method().code() : item.factor();
        return new WhyLine(
                item.kind(), ear(item.part()), subject, item.level(), item.minutes(), item.low(), item.high());
    }

    private static Question question(Prediction.Question question) {
        return new Question(
                ear(question.part()),
                question.factor(),
                Factors.whoCanAnswer(question.factor()),
                question.savesMinutes());
    }

    private static @Nullable Ear ear(String part) {
        return Ear.of(part).orElse(null);
    }
}
