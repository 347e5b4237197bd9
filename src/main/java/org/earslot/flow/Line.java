package org.earslot.flow;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
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
record Line(
        int index,
        Place place,
        TimeShape room,
        Law turnaround,
        double attends,
        double floor,
        double due,
        @Nullable Law arrival,
        List<Break> breaks) {

    private static final double ALMOST_NONE = 1e-9;

    /** The places in the order they run. */
    static List<Line> of(DayList list, double step) {
        List<Line> lines = new ArrayList<>();
        Shapes shapes = new Shapes(list.commonSd());
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

    private static Line line(int index, Place place, DayList list, double step, List<Break> breaks, Shapes shapes) {
        double now = list.now() == null ? 0 : Clock24.minutes(list.now());
        double booked = place.booked() == null ? 0 : Clock24.minutes(place.booked());
        double arrived = place.arrived() == null ? 0 : Clock24.minutes(place.arrived());
        double floor = Math.max(now, Math.max(booked - list.earlyMinutes(), arrived));
        for (Break each : breaks) {
            floor = Math.max(floor, Clock24.minutes(each.to()));
        }
        double attends = place.attends();
        Law arrival = null;
        if (place.isExpected() && !place.arrivals().neverHold() && place.booked() != null) {
            Arrivals arrivals = place.arrivals();
            TimeShape delay = shapes.own(arrivals.delay());
            Law comes = delay.law(0, 0, booked - arrivals.leadMinutes(), step);
            arrival = comes;
            if (list.now() != null) {
                double later = attends * comes.above(now / step);
                double never = 1 - attends;
                attends = later + never < ALMOST_NONE ? attends : later / (later + never);
                arrival = comes.given(now / step);
            }
        }
        return new Line(
                index,
                place,
                shapes.shared(place.inRoom()),
                turnaround(place, now, step, shapes.own(place.turnaround())),
                attends,
                floor / step,
                Math.max(booked, arrived) / step,
                arrival,
                breaks);
    }

    /** Distributions tabulated once each: many visits share a turnaround, and how patients come. */
    private static final class Shapes {
        private final double commonSd;
        private final Map<MinutesDistribution, TimeShape> own = new HashMap<>();
        private final Map<MinutesDistribution, TimeShape> shared = new HashMap<>();

        Shapes(double commonSd) {
            this.commonSd = commonSd;
        }

        TimeShape own(MinutesDistribution time) {
            return own.computeIfAbsent(time, each -> KnownShapes.of(each, 0));
        }

        TimeShape shared(MinutesDistribution time) {
            return shared.computeIfAbsent(time, each -> KnownShapes.of(each, commonSd));
        }
    }

    /** Finished to room ready, as far as it is known. */
    private static Law turnaround(Place place, double now, double step, TimeShape turnaround) {
        if (place.stage() instanceof Stage.Finished over) {
            double finished = Clock24.minutes(over.finished());
            LocalTime ready = over.roomReady();
            if (ready != null) {
                return Law.sure((Clock24.minutes(ready) - finished) / step);
            }
            double passed = Math.max(0, now - finished);
            return turnaround.law(0, passed, passed, step);
        }
        return turnaround.law(0, 0, 0, step);
    }

    /** Called in, where that has happened (cells). */
    double calledIn(double step) {
        LocalTime calledIn = place.calledIn();
        return calledIn == null ? Double.NaN : Clock24.minutes(calledIn) / step;
    }

    /** Called in to finished, given z and what has been seen. */
    Law timeInRoom(double z, @Nullable LocalTime now, double step) {
        if (place.stage() instanceof Stage.Finished over) {
            return Law.sure((Clock24.minutes(over.finished()) - Clock24.minutes(over.calledIn())) / step);
        }
        if (place.stage() instanceof Stage.InRoom inside && now != null) {
            double passed = Clock24.minutes(now) - Clock24.minutes(inside.calledIn());
            return room.law(z, passed, passed, step);
        }
        return room.law(z, 0, 0, step);
    }

    /** The later of a time and of what this patient's call-in must wait for. */
    Law start(Law free) {
        return arrival == null ? free.noEarlierThan(floor) : free.laterOf(arrival, floor);
    }

    Joint start(Joint free) {
        return arrival == null
                ? free.noEarlierThan(floor)
                : free.laterOf(arrival.lattice().noEarlierThan(floor));
    }
}
