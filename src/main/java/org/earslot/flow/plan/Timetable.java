package org.earslot.flow.plan;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.earslot.flow.chance.CommonFactor;
import org.earslot.flow.chance.Curve;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.chance.LatticeDistribution;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.run.OneRoom;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;

/**
 * A planned list in one room whose starts are being moved: the same recursion as {@link OneRoom}, run forwards for
 * where the chair stands before each visit and backwards for what the rest of the list will then cost. One visit's
 * start is priced from these two alone, without running the list again.
 *
 * <p>Starts are in cells. Arrivals are laid on a coarser grid than the list, their mean kept. Mutable; used by one
 * thread.
 */
final class Timetable {

    /** Minutes of the grid for arrivals. */
    private static final double ARRIVAL_STEP = 5;
    /** Minutes beyond where the chair may be that a curve reaches before it goes on straight. */
    static final double PAD_MINUTES = 30;

    /** One visit, at a node of the common factor for each time. */
    private record Visit(
            Place place,
            LatticeDistribution[] times,
            double attends,
            @Nullable LatticeDistribution comes,
            double[] late,
            double[] chance) {}

    final double step;
    final double from;
    final double to;
    final List<Break> breaks;
    private final double early;
    private final double waitCost;
    private final double idleCost;
    private final double overtimeCost;
    private final double commonSd;
    private final double[] node;
    private final double[] weight;
    private final boolean twoRooms;
    /** Many visits share a turnaround and how patients come; each is laid once. */
    private final Map<MinutesDistribution, LatticeDistribution> turnarounds = new ConcurrentHashMap<>();

    private final Map<Arrivals, LatticeDistribution> arrivals = new ConcurrentHashMap<>();
    private final Visit[] visits;
    private final double[] starts;
    /** [node][visit]: the chair before each visit and its breaks; the last one at the end. */
    private final LatticeDistribution[][] free;
    /** [node][visit]: cost of all visits before it. */
    private final double[][] past;
    /** [node][visit]: cost of that visit and all later ones by the chair's time. */
    private final Curve[][] toGo;
    /** [node][visit]: cost of all later ones by the visit's start. */
    private final Curve[][] afterStart;

    Timetable(DayList list, List<Place> places, double[] startMinutes, Costs costs, double step, int nodes) {
        this.step = step;
        from = list.session().fromMinutes() / step;
        to = list.session().toMinutes() / step;
        breaks = list.session().breaks();
        early = list.earlyMinutes() / step;
        waitCost = costs.waitMinute() * step;
        idleCost = costs.idleMinute() * step;
        overtimeCost = costs.overtimeMinute() * step;
        CommonFactor factor = CommonFactor.of(list.commonSd(), List.of(), nodes);
        weight = factor.weight();
        node = factor.z();
        commonSd = list.commonSd();
        twoRooms = list.hasTwoRooms();
        int n = places.size();
        visits = new Visit[n];
        starts = new double[n];
        for (int i = 0; i < n; i++) {
            visits[i] = visit(places.get(i));
            starts[i] = startMinutes[i] / step;
        }
        free = new LatticeDistribution[weight.length][n + 1];
        past = new double[weight.length][n + 1];
        toGo = new Curve[weight.length][n + 1];
        afterStart = new Curve[weight.length][n];
    }

    private Visit visit(Place place) {
        DistributionTable room = DistributionTables.of(place.inRoom(), commonSd);
        LatticeDistribution turnaround =
                twoRooms ? LatticeDistribution.sure(0) : turnarounds.computeIfAbsent(place.turnaround(), this::laid);
        LatticeDistribution[] times = new LatticeDistribution[node.length];
        for (int k = 0; k < node.length; k++) {
            times[k] = room.lay(node[k], 0, 0, step).plus(turnaround);
        }
        if (place.arrivals().neverHold()) {
            return new Visit(place, times, place.attends(), null, new double[1], new double[] {1});
        }
        return arriving(place, times, arrivals.computeIfAbsent(place.arrivals(), this::comes));
    }

    private LatticeDistribution laid(MinutesDistribution time) {
        return DistributionTables.of(time, 0).lay(0, 0, 0, step);
    }

    /** All who are there before they may be called in count as one arrival. */
    private Visit arriving(Place place, LatticeDistribution[] times, LatticeDistribution comes) {
        int inTime = (int) Math.floor(-early);
        double[] late = new double[Math.max(1, comes.last() - inTime + 1)];
        double[] chance = new double[late.length];
        late[0] = Math.min(comes.last(), inTime);
        int count = 1;
        for (int i = 0; i < comes.p.length; i++) {
            if (comes.first + i <= inTime) {
                chance[0] += comes.p[i];
            } else if (comes.p[i] > 0) {
                late[count] = comes.first + i;
                chance[count++] = comes.p[i];
            }
        }
        return new Visit(
                place, times, place.attends(), comes, Arrays.copyOf(late, count), Arrays.copyOf(chance, count));
    }

    /** Arrival minus booked start, in this grid's cells but only at every few of them. */
    private LatticeDistribution comes(Arrivals arrivals) {
        int every = Math.max(1, (int) Math.round(ARRIVAL_STEP / step));
        LatticeDistribution coarse =
                DistributionTables.of(arrivals.delay(), 0).lay(0, 0, -arrivals.leadMinutes(), every * step);
        double[] spread = new double[(coarse.p.length - 1) * every + 1];
        for (int i = 0; i < coarse.p.length; i++) {
            spread[i * every] = coarse.p[i];
        }
        return LatticeDistribution.of(coarse.first * every, spread);
    }

    int size() {
        return visits.length;
    }

    Place place(int i) {
        return visits[i].place();
    }

    double start(int i) {
        return starts[i];
    }

    double[] starts() {
        return starts.clone();
    }

    void setStart(int i, double cells) {
        starts[i] = cells;
    }

    void setStarts(double[] cells) {
        System.arraycopy(cells, 0, starts, 0, starts.length);
    }

    /** Visits i and j change places; the starts stay. */
    void swap(int i, int j) {
        Visit kept = visits[i];
        visits[i] = visits[j];
        visits[j] = kept;
    }

    /** Runs the whole list forwards; gives its cost. */
    double run() {
        double total = 0;
        for (int k = 0; k < weight.length; k++) {
            free[k][0] = LatticeDistribution.sure(from);
            for (int i = 0; i < visits.length; i++) {
                past[k][i + 1] = past[k][i] + price(k, i, free[k][i], starts[i], null, null);
                free[k][i + 1] = next(k, i, free[k][i], starts[i]);
            }
            total += weight[k] * (past[k][visits.length] + overtimeCost * free[k][visits.length].excess(to));
        }
        return total;
    }

    /** Runs visit i forwards from where the chair stands before it. */
    void advance(int i) {
        for (int k = 0; k < weight.length; k++) {
            free[k][i + 1] = next(k, i, free[k][i], starts[i]);
        }
    }

    /** Runs the list backwards; {@link #run} comes first. */
    void lookBack() {
        for (int k = 0; k < weight.length; k++) {
            int n = visits.length;
            int pad = (int) (PAD_MINUTES / step);
            toGo[k][n] = overtime(free[k][n], pad);
            for (int i = n - 1; i >= 0; i--) {
                int low = free[k][i].first - pad;
                int high = Math.max(free[k][i].last(), (int) starts[i]) + pad;
                List<Break> pauses = breaksBefore(i, starts[i]);
                for (Break each : pauses) {
                    high = Math.max(high, (int) Math.ceil(Clock24.minutes(each.to()) / step) + pad);
                }
                afterStart[k][i] = toGo[k][i + 1].before(visits[i].times()[k], low, high);
                double[] cost = new double[high - low + 1];
                Turn turn = new Turn(visits[i], starts[i], afterStart[k][i], toGo[k][i + 1]);
                for (int r = low; r <= high; r++) {
                    cost[r - low] = turn.cost(pause(pauses, r));
                }
                toGo[k][i] = new Curve(low, cost);
            }
        }
    }

    private Curve overtime(LatticeDistribution end, int pad) {
        int low = Math.min(end.first, (int) to) - pad;
        int high = Math.max(end.last(), (int) Math.ceil(to)) + pad;
        double[] cost = new double[high - low + 1];
        for (int r = low; r <= high; r++) {
            cost[r - low] = overtimeCost * Math.max(0, r - to);
        }
        return new Curve(low, cost);
    }

    /** Cost of visit i and all later ones if it starts at {@code start}, the others where they are. */
    double costFrom(int i, double start) {
        double total = 0;
        for (int k = 0; k < weight.length; k++) {
            total += weight[k] * price(k, i, free[k][i], start, afterStart[k][i], toGo[k][i + 1]);
        }
        return total;
    }

    /**
     * Cost of a list that runs as this one until visit i, which is the one given, and as another one from there on; the
     * starts are the same. {@link #run} of this and {@link #lookBack} of the other come first. Changes nothing, so many
     * threads may ask at once.
     */
    double costWith(int i, Place instead, Timetable then) {
        Visit tried = visit(instead);
        List<Break> pauses = breaksBefore(i, starts[i]);
        int pad = (int) (PAD_MINUTES / step);
        double cost = 0;
        for (int k = 0; k < weight.length; k++) {
            LatticeDistribution chair = free[k][i];
            Curve rest = then.toGo[k][i + 1];
            int low = chair.first - pad;
            int high = Math.max(chair.last(), (int) starts[i]) + pad;
            Curve after = rest.before(tried.times()[k], low, high);
            cost += weight[k] * (past[k][i] + price(tried, pauses, chair, starts[i], after, rest));
        }
        return cost;
    }

    /**
     * Costs of visits {@code i} and later if {@code i..j} move together by {@code shift}, for j = i, i + 1, ... up to
     * {@code last}.
     */
    double[] costsOfShifts(int i, int last, double shift) {
        double[] costs = new double[last - i + 1];
        for (int k = 0; k < weight.length; k++) {
            LatticeDistribution chair = free[k][i];
            double past = 0;
            for (int j = i; j <= last; j++) {
                double start = starts[j] + shift;
                past += price(k, j, chair, start, null, null);
                chair = next(k, j, chair, start);
                double rest = 0;
                for (int c = 0; c < chair.p.length; c++) {
                    rest += chair.p[c] * toGo[k][j + 1].at(chair.first + c);
                }
                costs[j - i] += weight[k] * (past + rest);
            }
        }
        return costs;
    }

    private LatticeDistribution next(int k, int i, LatticeDistribution chair, double start) {
        Visit visit = visits[i];
        LatticeDistribution ready = chair;
        for (Break each : breaksBefore(i, start)) {
            ready = ready.later(each.leastMinutes() / step).noEarlierThan(Clock24.minutes(each.to()) / step);
        }
        LatticeDistribution called = ready.noEarlierThan(start - early);
        LatticeDistribution begun =
                visit.comes() == null ? called : called.laterOf(visit.comes().later(start));
        return LatticeDistribution.either(visit.attends(), begun.plus(visit.times()[k]), ready);
    }

    private double price(
            int k, int i, LatticeDistribution chair, double start, @Nullable Curve after, @Nullable Curve skipped) {
        return price(visits[i], breaksBefore(i, start), chair, start, after, skipped);
    }

    private double price(
            Visit visit,
            List<Break> pauses,
            LatticeDistribution chair,
            double start,
            @Nullable Curve after,
            @Nullable Curve skipped) {
        Turn turn = new Turn(visit, start, after, skipped);
        double sum = 0;
        for (int c = 0; c < chair.p.length; c++) {
            sum += chair.p[c] * turn.cost(pause(pauses, chair.first + c));
        }
        return sum;
    }

    /**
     * Cost of one visit at one start, and with curves of all later ones, by when the chair is free. What depends on the
     * arrival alone is summed once, from the first arrival on and from the last back, so that each chair's time costs
     * two look-ups however many arrivals there are.
     */
    private final class Turn {
        private final double start;
        private final double attends;
        private final @Nullable Curve after;
        private final @Nullable Curve skipped;
        /** Ascending; a patient who never holds up the list has always come. */
        private final double[] comes;
        /** [a]: chance, and chance x due, of the first a arrivals. */
        private final double[] come;

        private final double[] due;
        /** [a]: chance x arrival, and chance x cost after it, of all arrivals but the first a. */
        private final double[] later;

        private final double[] laterAfter;
        private int arrived;

        Turn(Visit visit, double start, @Nullable Curve after, @Nullable Curve skipped) {
            this.start = start;
            this.attends = visit.attends();
            this.after = after;
            this.skipped = skipped;
            double[] chance = visit.chance();
            int n = chance.length;
            comes = new double[n];
            come = new double[n + 1];
            due = new double[n + 1];
            later = new double[n + 1];
            laterAfter = new double[n + 1];
            for (int a = 0; a < n; a++) {
                comes[a] = visit.comes() == null ? Double.NEGATIVE_INFINITY : start + visit.late()[a];
                come[a + 1] = come[a] + chance[a];
                due[a + 1] = due[a] + chance[a] * Math.max(start, comes[a]);
            }
            for (int a = n - 1; a >= 0 && comes[a] > Double.NEGATIVE_INFINITY; a--) {
                later[a] = later[a + 1] + chance[a] * comes[a];
                laterAfter[a] = laterAfter[a + 1] + (after == null ? 0 : chance[a] * after.at(comes[a]));
            }
        }

        double cost(double chair) {
            double called = Math.max(chair, start - early);
            while (arrived < comes.length && comes[arrived] <= called) {
                arrived++;
            }
            while (arrived > 0 && comes[arrived - 1] > called) {
                arrived--;
            }
            double here = come[arrived];
            double wait = called > start ? called * here - due[arrived] : 0;
            double cost = waitCost * wait + idleCost * (here * called + later[arrived] - chair);
            if (after != null) {
                cost += here * after.at(called) + laterAfter[arrived];
            }
            return attends * cost + (attends == 1 || skipped == null ? 0 : (1 - attends) * skipped.at(chair));
        }
    }

    private double pause(List<Break> pauses, double chair) {
        double ready = chair;
        for (Break each : pauses) {
            ready = Math.max(Clock24.minutes(each.to()) / step, ready + each.leastMinutes() / step);
        }
        return ready;
    }

    /** Breaks that begin after the last visit's start and not after this one's. */
    private List<Break> breaksBefore(int i, double start) {
        if (breaks.isEmpty()) {
            return breaks;
        }
        double before = i == 0 ? -1 : starts[i - 1];
        return breaks.stream()
                .filter(each -> {
                    double at = Clock24.minutes(each.from()) / step;
                    return at <= start && at > before;
                })
                .toList();
    }
}
