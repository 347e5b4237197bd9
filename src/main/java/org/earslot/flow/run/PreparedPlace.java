package org.earslot.flow.run;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.chance.Joint;
import org.earslot.flow.chance.MixedDistribution;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Stage;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;

/**
 * A place made ready for running the list: its distributions tabulated, its times in cells of the grid.
 *
 * @param index in the list as given
 * @param attends chance that the visit takes place, given what is known now
 * @param floor called in no earlier (cells)
 * @param due the wait counts from here (cells), or from the arrival if that is later
 * @param arrival when the patient comes (cells); null if arrival holds up nothing
 * @param breaks that come before this place
 */
public record PreparedPlace(
        int index,
        Place place,
        DistributionTable room,
        MixedDistribution turnaround,
        double attends,
        double floor,
        double due,
        @Nullable MixedDistribution arrival,
        List<Break> breaks) {

    private static final double ALMOST_NONE = 1e-9;
    private static final double SLIGHTEST = 1e-9;

    /** The places in the order they run. */
    public static List<PreparedPlace> of(DayList list, double step) {
        List<PreparedPlace> lines = new ArrayList<>();
        Shapes shapes = new Shapes(list.commonSd(), step);
        List<Break> left = new ArrayList<>(list.session().breaks());
        for (int index : list.order()) {
            Place place = list.places().get(index);
            List<Break> before = new ArrayList<>();
            while (!left.isEmpty()
                    && place.booked() != null
                    && !place.booked().isBefore(left.get(0).from())) {
                before.add(left.remove(0));
            }
            lines.add(line(index, place, list, step, before, shapes));
        }
        return lines;
    }

    private static PreparedPlace line(
            int index, Place place, DayList list, double step, List<Break> breaks, Shapes shapes) {
        double now = list.now() == null ? 0 : Clock24.minutes(list.now());
        double booked = place.booked() == null ? 0 : Clock24.minutes(place.booked());
        double arrived = place.arrived() == null ? 0 : Clock24.minutes(place.arrived());
        double floor = Math.max(now, Math.max(booked - list.earlyMinutes(), arrived));
        for (Break each : breaks) {
            floor = Math.max(floor, Clock24.minutes(each.to()));
        }
        double attends = place.attends();
        MixedDistribution arrival = null;
        if (place.isExpected() && !place.arrivals().neverHold() && place.booked() != null) {
            Arrivals arrivals = place.arrivals();
            double from = booked - arrivals.leadMinutes();
            arrival = list.now() == null ? shapes.from(arrivals.delay(), from / step) : null;
            if (list.now() != null) {
                // Only the latest may be left.
                MixedDistribution comes = shapes.own(arrivals.delay()).law(0, 0, from, step, SLIGHTEST);
                double later = attends * comes.above(now / step);
                double never = 1 - attends;
                attends = later + never < ALMOST_NONE ? attends : later / (later + never);
                arrival = comes.given(now / step);
            }
        }
        return new PreparedPlace(
                index,
                place,
                shapes.shared(place.inRoom()),
                turnaround(place, now, step, shapes),
                attends,
                floor / step,
                Math.max(booked, arrived) / step,
                arrival,
                breaks);
    }

    /** Distributions tabulated and laid once each: many visits share a turnaround, and how patients come. */
    private static final class Shapes {
        private final double commonSd;
        private final double step;
        private final Map<MinutesDistribution, DistributionTable> own = new HashMap<>();
        private final Map<MinutesDistribution, DistributionTable> shared = new HashMap<>();
        private final Map<Laid, MixedDistribution> laid = new HashMap<>();

        /** @param part of a cell by which it lies off the grid, from 0 to 1 */
        private record Laid(MinutesDistribution time, double part) {}

        Shapes(double commonSd, double step) {
            this.commonSd = commonSd;
            this.step = step;
        }

        DistributionTable own(MinutesDistribution time) {
            return own.computeIfAbsent(time, each -> DistributionTables.of(each, 0));
        }

        /** Counted from so many cells on. */
        MixedDistribution from(MinutesDistribution time, double cells) {
            double whole = Math.floor(cells);
            Laid key = new Laid(time, cells - whole);
            return laid.computeIfAbsent(key, each -> own(time).law(0, 0, each.part() * step, step))
                    .later(whole);
        }

        DistributionTable shared(MinutesDistribution time) {
            return shared.computeIfAbsent(time, each -> DistributionTables.of(each, commonSd));
        }
    }

    /** Finished to room ready, as far as it is known. */
    private static MixedDistribution turnaround(Place place, double now, double step, Shapes shapes) {
        if (place.stage() instanceof Stage.Finished over) {
            double finished = Clock24.minutes(over.finished());
            LocalTime ready = over.roomReady();
            if (ready != null) {
                return MixedDistribution.sure((Clock24.minutes(ready) - finished) / step);
            }
            double passed = Math.max(0, now - finished);
            return shapes.own(place.turnaround()).law(0, passed, passed, step);
        }
        return shapes.from(place.turnaround(), 0);
    }

    /** Called in, where that has happened (cells). */
    double calledIn(double step) {
        LocalTime calledIn = place.calledIn();
        return calledIn == null ? Double.NaN : Clock24.minutes(calledIn) / step;
    }

    /**
     * Called in to finished, given z and what has been seen.
     *
     * @param tail what may be cut off either end
     */
    MixedDistribution timeInRoom(double z, @Nullable LocalTime now, double step, double tail) {
        if (place.stage() instanceof Stage.Finished over) {
            return MixedDistribution.sure((Clock24.minutes(over.finished()) - Clock24.minutes(over.calledIn())) / step);
        }
        if (place.stage() instanceof Stage.InRoom inside && now != null) {
            double passed = Clock24.minutes(now) - Clock24.minutes(inside.calledIn());
            return room.law(z, passed, passed, step, tail);
        }
        return room.law(z, 0, 0, step, tail);
    }

    /** Whether nothing has been seen of it: its time in room depends on its shape and z alone. */
    boolean isYetToBegin() {
        return !place.wasCalledIn();
    }

    /** The later of a time and of what this patient's call-in must wait for. */
    MixedDistribution start(MixedDistribution free) {
        return arrival == null ? free.noEarlierThan(floor) : free.laterOf(arrival, floor);
    }

    Joint start(Joint free) {
        return arrival == null
                ? free.noEarlierThan(floor)
                : free.laterOf(arrival.lattice().noEarlierThan(floor));
    }
}
