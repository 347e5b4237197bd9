package org.earslot.flow.run;

import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.flow.chance.ContinuousPart;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.Joint;
import org.earslot.flow.chance.LatticeDistribution;
import org.earslot.flow.chance.MixedDistribution;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.jspecify.annotations.Nullable;

/**
 * The run of a list in one room at one value of the common factor:
 *
 * <pre>start = max(arrival, chair free, floor)    ready = start + time in room + turnaround</pre>
 *
 * <p>While one patient waits outside for a second call-in, the chair's time is carried jointly with the time that
 * patient is due back. A second such patient at the same time is due back independently of the chair.
 */
public final class OneRoom {

    /** However seldom a node: what counts little over all nodes would still show in what is read at one. */
    private static final double MOST_TAIL = 1e-4;

    private final DayList list;
    private final double step;
    private final double z;
    private final double weight;
    private final CostAccumulator costAccumulator;
    /** What may be cut off either end of a law at this node. */
    private final double tail;

    /** Of visits yet to begin: many are of one kind. */
    private final Map<DistributionTable, MixedDistribution> times = new IdentityHashMap<>();

    private MixedDistribution free;
    /** With {@link #outside}: the chair's time and how much later the patient outside is due back. */
    private @Nullable Joint jointly;

    private @Nullable String outside;
    private final Map<String, MixedDistribution> due = new HashMap<>();

    public OneRoom(DayList list, double step, double z, double weight, CostAccumulator costAccumulator) {
        this.list = list;
        this.step = step;
        this.z = z;
        this.weight = weight;
        this.costAccumulator = costAccumulator;
        tail = Math.min(MOST_TAIL, ContinuousPart.TAIL / (2 * weight));
        free = MixedDistribution.sure(list.session().fromMinutes() / step);
    }

    /** Runs the list once and adds up what happens. */
    public void run(List<PreparedPlace> lines) {
        for (PreparedPlace line : lines) {
            line.breaks().forEach(this::pause);
            if (line.attends() > 0) {
                visit(line);
            }
        }
    }

    /** The list as it goes on from here if that line's visit is not there, its breaks over; told to another costAccumulator. */
    public OneRoom passing(PreparedPlace line, CostAccumulator other) {
        OneRoom next = new OneRoom(list, step, z, weight, other);
        next.free = free;
        next.jointly = jointly;
        next.outside = outside;
        next.due.putAll(due);
        line.breaks().forEach(next::pause);
        return next;
    }

    /**
     * Once the list was run at every node: when the chair is free and ready, averaged over the nodes. It follows from when
     * the visits finish, since nothing between depends on the common factor.
     */
    public static void settle(DayList list, double step, List<PreparedPlace> lines, CostAccumulator costAccumulator) {
        settle(MixedDistribution.sure(list.session().fromMinutes() / step), step, lines, costAccumulator);
    }

    /** From a line on, at which the chair is free then. */
    public static void settle(
            MixedDistribution first, double step, List<PreparedPlace> lines, CostAccumulator costAccumulator) {
        MixedDistribution free = first;
        for (PreparedPlace line : lines) {
            for (Break each : line.breaks()) {
                free = paused(free, each, step);
            }
            if (line.attends() > 0) {
                CostAccumulator.Row row = costAccumulator.rows[line.index()];
                MixedDistribution ready = row.finish.law().plus(line.turnaround());
                row.chair.add(1, free);
                row.ready.add(1, ready);
                row.practitionerFree = row.weight * free.mean();
                free = MixedDistribution.either(line.attends(), ready, free);
            }
        }
        costAccumulator.end.add(1, free);
    }

    private static MixedDistribution paused(MixedDistribution free, Break pause, double step) {
        return free.later(pause.leastMinutes() / step).noEarlierThan(Clock24.minutes(pause.to()) / step);
    }

    private void pause(Break pause) {
        double to = Clock24.minutes(pause.to()) / step;
        double least = pause.leastMinutes() / step;
        free = paused(free, pause, step);
        if (jointly != null) {
            jointly = jointly.plus(LatticeDistribution.sure(least)).noEarlierThan(to);
        }
    }

    private void visit(PreparedPlace line) {
        Place.SecondCall again = line.place().again();
        MixedDistribution back = again == null ? null : due.get(again.of());
        MixedDistribution start;
        if (line.place().wasCalledIn()) {
            start = MixedDistribution.sure(line.calledIn(step));
            noteWait(line, back, start);
        } else if (again != null && again.of().equals(outside) && jointly != null && back != null) {
            start = MixedDistribution.of(jointly.reach()).noEarlierThan(line.floor());
            double longWait = jointly.behindBy(Projection.LONG_WAIT_MINUTES / step);
            double mean = start.mean() - back.mean();
            // start - due back has the mean of the difference, whatever the dependence.
            costAccumulator.rows[line.index()].addWait(weight, Math.max(0, mean) * step, longWait, start);
        } else if (back != null) {
            start = line.start(free).laterOf(back.noEarlierThan(line.floor()), line.floor());
            noteWait(line, back, start);
        } else {
            start = line.start(free);
        }
        end(line, start);
    }

    /** The wait of a second call-in, its due time taken as independent of the chair. */
    private void noteWait(PreparedPlace line, @Nullable MixedDistribution back, MixedDistribution start) {
        if (back != null) {
            double limit = back.mean() + Projection.LONG_WAIT_MINUTES / step;
            double mean = Math.max(0, start.mean() - back.mean());
            costAccumulator.rows[line.index()].addWait(weight, mean * step, start.above(limit), start);
        }
    }

    private void end(PreparedPlace line, MixedDistribution start) {
        MixedDistribution time = line.isYetToBegin()
                ? times.computeIfAbsent(line.room(), any -> line.timeInRoom(z, list.now(), step, tail))
                : line.timeInRoom(z, list.now(), step, tail);
        MixedDistribution finish = start.plus(time, tail);
        MixedDistribution ready = finish.plus(line.turnaround(), tail);
        costAccumulator.rows[line.index()].add(weight, finish);
        carry(line, time, finish);
        free = MixedDistribution.either(line.attends(), ready, free);
    }

    private void carry(PreparedPlace line, MixedDistribution time, MixedDistribution finish) {
        Place.SecondCall again = line.place().again();
        if (again != null && again.of().equals(outside)) {
            outside = null;
            jointly = null;
        }
        Place.SecondCall later = secondCallOf(line.place().name());
        if (later != null) {
            double minutes = later.minutesOutside() / step;
            due.put(line.place().name(), finish.later(minutes));
            if (jointly == null) {
                outside = line.place().name();
                int clip = -(int) Math.ceil(Projection.LONG_WAIT_MINUTES / step) - 1;
                jointly = Joint.starting(finish.lattice(), LatticeDistribution.sure(minutes), clip)
                        .plus(line.turnaround().lattice());
                return;
            }
        }
        if (jointly != null) {
            Joint started = line.place().wasCalledIn() ? jointly.knownAt(line.calledIn(step)) : line.start(jointly);
            jointly = Joint.either(
                    line.attends(),
                    started.plus(time.lattice()).plus(line.turnaround().lattice()),
                    jointly);
        }
    }

    private Place.@Nullable SecondCall secondCallOf(String name) {
        for (Place place : list.places()) {
            if (place.again() != null && place.again().of().equals(name)) {
                return place.again();
            }
        }
        return null;
    }
}
