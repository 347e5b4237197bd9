package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.run.Projection;

/**
 * What a session pattern gives under each way of setting slots, for the clinic's own mix: the points of one picture.
 * The same days, drawn from the mix once and for all, are used for every policy and number of visits; each day is
 * projected exactly.
 */
public record TradeOff(List<Point> points) {

    private static final long SEED = 20_261_125;
    private static final int LONGEST_WAIT = 180;

    /** How slots are set; each fills the session. */
    public enum Policy {
        /** All slots alike. */
        FIXED_SLOTS,
        /** In proportion to the mean of the visit's group. */
        SLOTS_BY_GROUP,
        /** Mean and an equal share of the spread of the visit's own estimate. */
        SLOTS_BY_ESTIMATE,
        /** Booked one by one in random order, each where {@link Rollout} offers it first. */
        OFFERS,
        /** {@link StartTimes} in the order given. */
        STARTS_TOGETHER,
        /** {@link StartTimes} with the order free. */
        STARTS_AND_ORDER
    }

    /**
     * @param visits a day
     * @param meanWait of a patient, minutes
     * @param waitOfNineInTen 9 in 10 patients wait no longer, minutes
     * @param pastEnd share of days that end late
     */
    public record Point(
            Policy policy,
            int visits,
            double meanWait,
            double waitOfNineInTen,
            double overtimeMinutes,
            double idleMinutes,
            double pastEnd) {}

    public TradeOff {
        points = List.copyOf(points);
    }

    /**
     * @param empty a plan with no places, for its session, early minutes and common factor
     * @param counts visits a day to try, each from 1
     * @param days drawn per count, 1 to 1000; twenty give means right to about a tenth
     * @param policies those wanted
     */
    public static TradeOff of(
            DayList empty,
            Mix mix,
            Costs costs,
            List<Integer> counts,
            int days,
            double stepMinutes,
            Set<Policy> policies) {
        Bounds.within("days", days, 1, 1000);
        List<Point> points = new ArrayList<>();
        for (int count : counts) {
            List<List<Mix.Kind>> drawn = drawn(mix, count, days);
            for (Policy policy : Policy.values()) {
                if (policies.contains(policy)) {
                    Planner planner = new Planner(empty, mix, costs, stepMinutes, count);
                    points.add(point(policy, count, drawn, planner));
                }
            }
        }
        return new TradeOff(points);
    }

    static List<List<Mix.Kind>> drawn(Mix mix, int count, int days) {
        SplittableRandom random = new SplittableRandom(SEED);
        double total = mix.kinds().stream().mapToDouble(Mix.Kind::weight).sum();
        List<List<Mix.Kind>> all = new ArrayList<>();
        for (int day = 0; day < days; day++) {
            List<Mix.Kind> kinds = new ArrayList<>();
            for (int i = 0; i < count; i++) {
                double at = random.nextDouble() * total;
                int k = 0;
                while (k < mix.kinds().size() - 1 && at >= mix.kinds().get(k).weight()) {
                    at -= mix.kinds().get(k++).weight();
                }
                kinds.add(mix.kinds().get(k));
            }
            all.add(kinds);
        }
        return all;
    }

    private static Point point(Policy policy, int count, List<List<Mix.Kind>> drawn, Planner planner) {
        double wait = 0;
        double overtime = 0;
        double idle = 0;
        double late = 0;
        double[] tail = new double[LONGEST_WAIT + 1];
        for (List<Mix.Kind> kinds : drawn) {
            DayList list = planner.plan(policy, kinds);
            Projection projection = Projection.of(list);
            double[] each = Projection.waitTail(list, LONGEST_WAIT);
            for (int x = 0; x < tail.length; x++) {
                tail[x] += each[x] / drawn.size();
            }
            wait += projection.totalWaitMinutes() / count;
            overtime += projection.overtimeMinutes();
            idle += projection.idleMinutes();
            late += projection.pastEnd();
        }
        int days = drawn.size();
        return new Point(policy, count, wait / days, ninth(tail), overtime / days, idle / days, late / days);
    }

    /** Where P(wait > x) falls to one in ten, read straight between whole minutes. */
    private static double ninth(double[] tail) {
        for (int x = 0; x < tail.length; x++) {
            if (tail[x] <= 0.1) {
                return x == 0 ? 0 : x - (0.1 - tail[x]) / (tail[x - 1] - tail[x]);
            }
        }
        return LONGEST_WAIT;
    }

    /** Sets the starts of a day's visits by each policy. */
    static final class Planner {
        private final DayList empty;
        private final Mix mix;
        private final Costs costs;
        private final double step;
        private final int count;
        private final Map<String, Double> groupMeans = new HashMap<>();

        Planner(DayList empty, Mix mix, Costs costs, double step, int count) {
            this.empty = empty;
            this.mix = mix;
            this.costs = costs;
            this.step = step;
            this.count = count;
            Map<String, Double> weights = new HashMap<>();
            for (Mix.Kind kind : mix.kinds()) {
                groupMeans.merge(kind.group(), kind.weight() * kind.mean(), Double::sum);
                weights.merge(kind.group(), kind.weight(), Double::sum);
            }
            groupMeans.replaceAll((group, sum) -> sum / weights.get(group));
        }

        DayList plan(Policy policy, List<Mix.Kind> kinds) {
            double[] gaps = gaps(policy, kinds);
            DayList list = empty.withPlaces(places(kinds, gaps));
            StartTimes.Rules rules = StartTimes.Rules.everyMinutes(step);
            return switch (policy) {
                case FIXED_SLOTS, SLOTS_BY_GROUP, SLOTS_BY_ESTIMATE -> list;
                case STARTS_TOGETHER -> StartTimes.of(list, costs, rules).list();
                case STARTS_AND_ORDER ->
                    StartTimes.of(list, costs, rules.withOrderFree()).list();
                case OFFERS -> oneByOne(list);
            };
        }

        private double[] gaps(Policy policy, List<Mix.Kind> kinds) {
            double work = work();
            double means = kinds.stream().mapToDouble(Mix.Kind::mean).sum();
            double spreads = kinds.stream().mapToDouble(Mix.Kind::spread).sum();
            double share = spreads == 0 ? 0 : (work - means) / spreads;
            double[] gaps = new double[kinds.size()];
            double sum = 0;
            for (int i = 0; i < gaps.length; i++) {
                Mix.Kind kind = kinds.get(i);
                gaps[i] = switch (policy) {
                    case SLOTS_BY_GROUP -> groupMeans.get(kind.group());
                    case SLOTS_BY_ESTIMATE -> Math.max(0.3 * kind.mean(), kind.mean() + share * kind.spread());
                    default -> 1;
                };
                sum += gaps[i];
            }
            for (int i = 0; i < gaps.length; i++) {
                gaps[i] *= work / sum;
            }
            return gaps;
        }

        private double work() {
            Session session = empty.session();
            double work = session.toMinutes() - session.fromMinutes();
            for (Break each : session.breaks()) {
                work -= Clock24.minutes(each.to()) - Clock24.minutes(each.from());
            }
            return work;
        }

        /** The running sum of the gaps, breaks left out, met on the grid from below. */
        private List<Place> places(List<Mix.Kind> kinds, double[] gaps) {
            List<Place> places = new ArrayList<>();
            double from = empty.session().fromMinutes();
            double at = from;
            for (int i = 0; i < gaps.length; i++) {
                double start = from + Math.floor((at - from) / step + 1e-9) * step;
                for (Break each : empty.session().breaks()) {
                    double begin = Clock24.minutes(each.from());
                    double end = Clock24.minutes(each.to());
                    if (start >= begin && at < end + 1e-9) {
                        at += end - begin;
                        start = StartTimes.onGrid(empty.session(), Math.max(end, start), step);
                    }
                }
                LocalTime booked = Clock24.time(start);
                places.add(
                        Place.booked("visit " + i, booked, gaps[i], kinds.get(i).inRoom())
                                .withTurnaround(kinds.get(i).turnaround())
                                .withAttendance(mix.didNotAttend(), mix.arrivals()));
                at += gaps[i];
            }
            return places;
        }

        private DayList oneByOne(DayList list) {
            return Rollout.booked(List.of(empty.withPlaces(List.of())), List.of(count), list.places(), mix, costs, step)
                    .get(0);
        }
    }
}
