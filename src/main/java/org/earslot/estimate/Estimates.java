package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.Policies;
import org.earslot.clinic.Policy;
import org.earslot.clinic.PolicyTerms;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.springframework.stereotype.Service;

/** Estimates on request, by the fit in force; by what is assumed of any clinic where there is none. */
@Service
public class Estimates {

    private final Policies policies;

    Estimates(Policies policies) {
        this.policies = policies;
    }

    /** How long this visit will take. */
    public Estimate estimate(UUID clinicId, VisitPlan plan) {
        return estimateAll(clinicId, List.of(plan)).get(0);
    }

    /** The same for many, in order. */
    public List<Estimate> estimateAll(UUID clinicId, List<VisitPlan> plans) {
        PolicyTerms policy = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        return plans.stream().map(plan -> assumed(plan, policy)).toList();
    }

    private static Estimate assumed(VisitPlan plan, PolicyTerms policy) {
        double perEar = plan.method() == Method.MANUAL_REMOVAL ? 9 : plan.method() == Method.IRRIGATION ? 6 : 5;
        List<WhyLine> why = new ArrayList<>();
        why.add(new WhyLine(ItemKind.ONCE, null, "", "", 5, 3, 8));
        for (Ear ear : plan.ears().each()) {
            why.add(new WhyLine(ItemKind.PART, ear, plan.method().code(), "", perEar, perEar * 0.6, perEar * 1.7));
        }
        double median = why.stream().mapToDouble(WhyLine::minutes).sum();
        MinutesDistribution minutes = new LogNormalMinutes(Math.log(median), 0.5);
        return new Estimate(
                Estimate.ASSUMED,
                minutes,
                minutes,
                Slots.minutes(minutes, plan.method(), policy),
                why,
                List.of(),
                0,
                0.15);
    }
}
