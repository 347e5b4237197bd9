package org.earslot.plan;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.estimate.BookedEstimate;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.flow.list.Mix;
import org.earslot.minutes.FixedMinutes;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Component;

/** What a clinic's visits are like: a sample of its own past visits, each as it would be estimated today. */
@Component
class ClinicMix {

    private static final int SAMPLES = 40;
    private static final int AT_EACH = 2;
    private static final int DAYS_BETWEEN = 365 / SAMPLES;

    private final Visits visits;
    private final Estimates estimates;

    ClinicMix(Visits visits, Estimates estimates) {
        this.visits = visits;
        this.estimates = estimates;
    }

    /**
     * One visit of the sample.
     *
     * @param slotMinutes the slot the policy gives it
     * @param sharedSdLog what visits of one practitioner share
     */
    record Member(Mix.Kind kind, int slotMinutes, double sharedSdLog, String version) {}

    /** Taken evenly over the year to {@code until}, done by {@code practitionerId}; empty if there are no visits. */
    List<Member> sample(ClinicId clinicId, UUID practitionerId, LocalDate until, PolicyTerms policy) {
        Map<UUID, Visit> sampled = new LinkedHashMap<>();
        for (int i = SAMPLES; i > 0; i--) {
            visits.overAfter(clinicId, until.minusDays((long) i * DAYS_BETWEEN), "", until, Limit.of(AT_EACH)).stream()
                    .filter(Visit::wasSeen)
                    .forEach(visit -> sampled.put(visit.id(), visit));
        }
        List<VisitPlan> plans = sampled.values().stream()
                .map(visit -> plan(visit, practitionerId))
                .toList();
        List<Estimate> each = plans.isEmpty() ? List.of() : estimates.estimateAll(clinicId, plans);
        List<Member> members = new ArrayList<>();
        for (int i = 0; i < plans.size(); i++) {
            members.add(member(plans.get(i), each.get(i), policy));
        }
        return members;
    }

    /** One visit of which only method and ears are known, or more, as the policy would have it booked. */
    static Member member(VisitPlan plan, Estimate estimate, PolicyTerms policy) {
        return new Member(
                new Mix.Kind(
                        plan.method().code() + " " + plan.ears().code(),
                        BookedEstimate.of(estimate).inRoomMinutes(),
                        new FixedMinutes(policy.turnaroundMinutes(plan.method())),
                        1),
                estimate.slotMinutes(),
                estimate.sharedSdLog(),
                estimate.version());
    }

    /** The visit as if it were still to come, for a patient not seen before. */
    private static VisitPlan plan(Visit visit, UUID practitionerId) {
        Map<Ear, EarFindings> reported =
                visit.ears().each().stream().collect(Collectors.toMap(Function.identity(), ear -> visit.reported(ear)));
        return new VisitPlan(
                null,
                practitionerId,
                visit.methodPlanned(),
                visit.ears(),
                visit.firstVisit(),
                visit.hearingAid(),
                visit.cautions(),
                visit.softenerDays().orElse(null),
                reported,
                visit.referrer().orElse(null));
    }

    /** The root mean square of what each shares. */
    static double sharedSd(List<Member> members) {
        double square = members.stream()
                .mapToDouble(each -> each.sharedSdLog() * each.sharedSdLog())
                .average()
                .orElse(0);
        return Math.min(1, Math.sqrt(square));
    }
}
