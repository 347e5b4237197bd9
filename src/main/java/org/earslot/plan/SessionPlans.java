package org.earslot.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.SessionTemplate;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.HowMany;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.run.Projection;
import org.earslot.plan.Background.Job;
import org.earslot.plan.ClinicMix.Member;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/** How many visits of a given mix fit a weekly session, and when each best starts. */
@Service
public class SessionPlans {

    /** So many visits can be asked for. */
    public static final int MOST_VISITS = 40;

    private final Estimates estimates;
    private final Policies policies;
    private final Background<Found> background;

    SessionPlans(Estimates estimates, Policies policies, PlanWorker worker) {
        this.estimates = estimates;
        this.policies = policies;
        this.background = new Background<>(worker.shortWork());
    }

    /** So many visits by that method of these ears. */
    public record Part(Method method, Ears ears, int count) {}

    /**
     * One visit with its start.
     *
     * @param waitMinutes expected wait
     */
    public record Line(LocalTime start, int slotMinutes, Method method, Ears ears, double waitMinutes) {

        SessionTemplate.Place place() {
            return new SessionTemplate.Place(start, slotMinutes, method, ears);
        }
    }

    /**
     * What fits.
     *
     * @param wanted visits asked for
     * @param lines those that fit, by their starts; empty until it is worked out
     * @param pastEnd chance that the session ends late
     * @param left how many of each do not fit
     */
    public record Found(
            int wanted,
            List<Line> lines,
            double meanWait,
            double overtimeMinutes,
            double idleMinutes,
            double pastEnd,
            List<Part> left) {

        static final Found NOTHING = new Found(0, List.of(), 0, 0, 0, 0, List.of());

        public Found {
            lines = List.copyOf(lines);
            left = List.copyOf(left);
        }

        /** As the places of a template. */
        public List<SessionTemplate.Place> places() {
            return lines.stream().map(Line::place).toList();
        }
    }

    /** @param found null while it is worked out, or if that failed */
    public record Shown(@Nullable Found found, boolean running, boolean failed) {}

    /** What fits of {@code mix} at these terms; begun if it is not known yet. */
    public Shown of(ClinicId clinicId, WeeklySession weekly, List<Part> mix, ListTerms terms) {
        PolicyTerms policy = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                mix.stream()
                        .map(part -> VisitPlan.of(part.method(), part.ears()).doneBy(weekly.practitionerId()))
                        .toList());
        String key =
                SessionOutline.key(weekly, policy, terms.costs(), each.get(0).version()) + " "
                        + terms.acceptedOvertimeShare() + " " + mix;
        Job<Found> job = background.of(clinicId + " " + key, Found.NOTHING, work -> {
            List<Member> members = new ArrayList<>();
            for (int i = 0; i < mix.size(); i++) {
                Part part = mix.get(i);
                members.add(ClinicMix.member(VisitPlan.of(part.method(), part.ears()), each.get(i), policy));
            }
            work.reached(1, 1, found(weekly, mix, members, policy, terms));
        });
        return new Shown(job.running() || job.failed() ? null : job.soFar(), job.running(), job.failed());
    }

    private static Found found(
            WeeklySession weekly, List<Part> mix, List<Member> members, PolicyTerms policy, ListTerms terms) {
        DayList empty = SessionOutline.empty(weekly, policy, ClinicMix.sharedSd(members));
        List<Integer> order = interleaved(mix);
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < order.size(); i++) {
            Member member = members.get(order.get(i));
            places.add(Place.booked(
                            i + " " + order.get(i),
                            empty.session().from(),
                            0,
                            member.kind().inRoom())
                    .withTurnaround(member.kind().turnaround()));
        }
        HowMany fit = HowMany.fit(
                empty.withPlaces(spaced(places, policy.gridMinutes())),
                SessionOutline.costs(terms.costs()),
                terms.acceptedOvertimeShare(),
                StartTimes.Rules.everyMinutes(policy.gridMinutes()).withOrderFree());
        return found(mix, fit, order.size());
    }

    private static Found found(List<Part> mix, HowMany fit, int wanted) {
        DayList list = fit.starts().list();
        if (fit.visits() == 0) {
            return new Found(wanted, List.of(), 0, 0, 0, 0, mix);
        }
        Projection run = Projection.of(list);
        List<Line> lines = new ArrayList<>();
        Map<Integer, Integer> placed = new HashMap<>();
        for (int i = 0; i < list.places().size(); i++) {
            Place place = list.places().get(i);
            int part = Integer.parseInt(place.name().substring(place.name().indexOf(' ') + 1));
            placed.merge(part, 1, Integer::sum);
            LocalTime start = place.booked() == null ? list.session().from() : place.booked();
            lines.add(new Line(
                    start,
                    (int) Math.round(place.slotMinutes()),
                    mix.get(part).method(),
                    mix.get(part).ears(),
                    run.visits().get(i).waitMinutes()));
        }
        lines.sort(Comparator.comparing(Line::start));
        List<Part> left = new ArrayList<>();
        for (int i = 0; i < mix.size(); i++) {
            int missing = mix.get(i).count() - placed.getOrDefault(i, 0);
            if (missing > 0) {
                left.add(new Part(mix.get(i).method(), mix.get(i).ears(), missing));
            }
        }
        return new Found(
                wanted,
                lines,
                run.totalWaitMinutes() / lines.size(),
                run.overtimeMinutes(),
                run.idleMinutes(),
                run.pastEnd(),
                left);
    }

    /** Each visit's part, so that the first n of them are of each part in proportion. */
    static List<Integer> interleaved(List<Part> mix) {
        List<double[]> due = new ArrayList<>();
        for (int part = 0; part < mix.size(); part++) {
            for (int i = 0; i < mix.get(part).count(); i++) {
                due.add(new double[] {(i + 0.5) / mix.get(part).count(), part});
            }
        }
        due.sort(Comparator.comparingDouble((double[] each) -> each[0]).thenComparingDouble(each -> each[1]));
        return due.stream().map(each -> (int) each[1]).toList();
    }

    private static List<Place> spaced(List<Place> places, int grid) {
        List<Place> spaced = new ArrayList<>();
        for (int i = 0; i < places.size(); i++) {
            LocalTime from = places.get(i).booked() == null
                    ? LocalTime.MIN
                    : places.get(i).booked();
            spaced.add(places.get(i).movedTo(from.plusMinutes((long) i * grid), grid));
        }
        return spaced;
    }
}
