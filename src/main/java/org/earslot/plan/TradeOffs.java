package org.earslot.plan;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.plan.TradeOff;
import org.earslot.flow.plan.TradeOff.Point;
import org.earslot.plan.Background.Job;
import org.earslot.plan.ClinicMix.Member;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/** What a weekly session gives under each way of setting slots, from the clinic's own visits. */
@Service
public class TradeOffs {

    /** Fewer visits say too little. */
    public static final int LEAST_VISITS = 12;

    private static final int DAYS = 8;
    /** The quick ones first, so that the picture fills from the start. */
    private static final List<List<TradeOff.Policy>> IN_TURN = List.of(
            List.of(TradeOff.Policy.FIXED_SLOTS, TradeOff.Policy.SLOTS_BY_GROUP, TradeOff.Policy.SLOTS_BY_ESTIMATE),
            List.of(TradeOff.Policy.STARTS_TOGETHER),
            List.of(TradeOff.Policy.STARTS_AND_ORDER),
            List.of(TradeOff.Policy.OFFERS));

    private final ClinicMix mixes;
    private final Estimates estimates;
    private final Policies policies;
    private final StoredTradeOffs stored;
    private final ClinicClock clock;
    private final Background<Worked> background;

    TradeOffs(
            ClinicMix mixes,
            Estimates estimates,
            Policies policies,
            StoredTradeOffs stored,
            ClinicClock clock,
            PlanWorker worker) {
        this.mixes = mixes;
        this.estimates = estimates;
        this.policies = policies;
        this.stored = stored;
        this.clock = clock;
        this.background = new Background<>(worker.longWork());
    }

    /**
     * What was worked out.
     *
     * @param present the policy in force; null if there are too few visits
     * @param sampled visits of the clinic behind it
     */
    public record Worked(List<Point> points, @Nullable PresentPolicy present, int sampled) {

        static final Worked NOTHING = new Worked(List.of(), null, 0);

        public Worked {
            points = List.copyOf(points);
        }

        /** What a policy gives at that accepted share of late ends; empty until all its points are worked out. */
        public Optional<AtAcceptedOvertime> at(TradeOff.Policy policy, double accepted) {
            return count(policy) < count(TradeOff.Policy.FIXED_SLOTS)
                    ? Optional.empty()
                    : AtAcceptedOvertime.of(points, policy, accepted);
        }

        private long count(TradeOff.Policy policy) {
            return points.stream().filter(point -> point.policy() == policy).count();
        }
    }

    /**
     * How far it is.
     *
     * @param done of {@code total} steps
     * @param running whether more is to come
     */
    public record Shown(Worked worked, int done, int total, boolean running, boolean failed) {}

    /** The trade-off of a weekly session at these costs, as far as it is worked out; begun if it is not yet. */
    public Shown of(ClinicId clinicId, WeeklySession weekly, ListCosts costs) {
        PolicyTerms policy = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        LocalDate month = clock.today(clinicId).withDayOfMonth(1);
        String version = estimates
                .estimate(clinicId, VisitPlan.of(Method.MICROSUCTION, Ears.RIGHT))
                .version();
        String key = SessionOutline.key(weekly, policy.withAcceptedOvertimeShare(0.5), costs, version + " " + month);
        Optional<Worked> known = stored.find(clinicId, key);
        if (known.isPresent()) {
            return new Shown(known.get(), 1, 1, false, false);
        }
        Job<Worked> job = background.of(
                clinicId + " " + key, Worked.NOTHING, work -> work(clinicId, weekly, costs, policy, key, work));
        return new Shown(job.soFar(), job.done(), job.total(), job.running(), job.failed());
    }

    private void work(
            ClinicId clinicId, WeeklySession weekly, ListCosts costs, PolicyTerms policy, String key, Job<Worked> job) {
        List<Member> members = mixes.sample(clinicId, weekly.practitionerId(), clock.today(clinicId), policy);
        if (members.size() < LEAST_VISITS) {
            job.reached(1, 1, new Worked(List.of(), null, members.size()));
            return;
        }
        DayList empty = SessionOutline.empty(weekly, policy, ClinicMix.sharedSd(members));
        Mix mix = new Mix(members.stream().map(Member::kind).toList());
        PresentPolicy present = PresentPolicy.of(empty, members, 4 * DAYS);
        List<Integer> counts = counts(weekly, members);
        int total = IN_TURN.size() * counts.size();
        List<Point> points = new ArrayList<>();
        for (List<TradeOff.Policy> together : IN_TURN) {
            for (int count : counts) {
                points.addAll(TradeOff.of(
                                empty,
                                mix,
                                SessionOutline.costs(costs),
                                List.of(count),
                                DAYS,
                                policy.gridMinutes(),
                                Set.copyOf(together))
                        .points());
                int done = job.done() + 1;
                job.reached(done, total, new Worked(points, present, members.size()));
            }
        }
        stored.store(clinicId, key, job.soFar());
    }

    /** Around as many as their mean times fill the session. */
    private static List<Integer> counts(WeeklySession weekly, List<Member> members) {
        double mean = members.stream()
                .mapToDouble(each ->
                        each.kind().inRoom().mean() + each.kind().turnaround().mean())
                .average()
                .orElse(1);
        int full = (int) Math.floor(SessionOutline.minutes(weekly) / mean);
        int step = Math.max(1, full / 10);
        return IntStream.rangeClosed(-3, 1)
                .map(i -> full + i * step)
                .filter(count -> count >= 1 && count <= 40)
                .boxed()
                .toList();
    }
}
