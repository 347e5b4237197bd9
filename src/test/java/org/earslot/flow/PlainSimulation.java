package org.earslot.flow;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Stage;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;

/**
 * A list run many times by random draws, written plainly and on its own: the check on {@link Projection}. Knows
 * log-normal and certain times. Draws that contradict what has been seen on a running list carry weight 0; finished
 * visits weight a draw by the likelihood of their minutes.
 */
public final class PlainSimulation {

    /** A mean and its standard error, from weighted draws. */
    public static final class Mean {
        private double weights;
        private double squares;
        private double sum;
        private double sumSquares;

        void add(double weight, double value) {
            weights += weight;
            squares += weight * weight;
            sum += weight * value;
            sumSquares += weight * value * value;
        }

        public double value() {
            return sum / weights;
        }

        public double standardError() {
            double variance = Math.max(0, sumSquares / weights - value() * value());
            return Math.sqrt(variance * squares) / weights;
        }
    }

    public final Map<String, Mean> wait = new HashMap<>();
    public final Map<String, Mean> longWait = new HashMap<>();
    public final Map<String, Mean> pastSlot = new HashMap<>();
    final Map<String, Mean> start = new HashMap<>();
    final Map<String, Mean> beforeMedianStart = new HashMap<>();
    public final Mean pastEnd = new Mean();
    public final Mean overtime = new Mean();
    public final Mean idle = new Mean();

    private final DayList list;
    private final Projection projected;
    private final SplittableRandom random;
    private final List<Double> idleNow = new ArrayList<>();
    private double logWeight;

    public PlainSimulation(DayList list, Projection projected, long draws, long seed) {
        this.list = list;
        this.projected = projected;
        random = new SplittableRandom(seed);
        for (Place place : list.places()) {
            for (Map<String, Mean> each : List.of(wait, longWait, pastSlot, start, beforeMedianStart)) {
                each.put(place.name(), new Mean());
            }
        }
        for (long draw = 0; draw < draws; draw++) {
            day();
        }
    }

    private record Call(Place place, double start, double due, double ready) {}

    private void day() {
        double z = random.nextGaussian();
        logWeight = 0;
        double idleMinutes = 0;
        double practitioner = Clock24.minutes(list.session().from());
        Map<String, Double> roomReady = new HashMap<>();
        Map<String, Double> back = new HashMap<>();
        List<Call> calls = new ArrayList<>();
        List<Break> breaks = new ArrayList<>(list.session().breaks());
        double end = practitioner;
        double now = list.now() == null ? 0 : Clock24.minutes(list.now());
        boolean two = list.hasTwoRooms();
        for (int index : list.order()) {
            Place place = list.places().get(index);
            while (!breaks.isEmpty()
                    && place.booked() != null
                    && !place.booked().isBefore(breaks.get(0).from())) {
                Break taken = breaks.remove(0);
                practitioner = Math.max(Clock24.minutes(taken.to()), practitioner + taken.leastMinutes());
            }
            double booked = place.booked() == null ? 0 : Clock24.minutes(place.booked());
            double arrival = arrival(place, booked, now);
            boolean came = place.stage() != Stage.AWAY && !Double.isNaN(arrival);
            if (!came) {
                continue;
            }
            Place.SecondCall again = place.again();
            double start = Math.max(practitioner, roomReady.getOrDefault(place.room(), 0.0));
            start = Math.max(start, Math.max(now, booked - list.earlyMinutes()));
            start = Math.max(start, arrival);
            double due = Math.max(booked, arrival);
            if (again != null) {
                due = back.get(again.of()) + again.minutesOutside();
                start = Math.max(start, due);
            }
            if (place.calledIn() != null) {
                start = Clock24.minutes(place.calledIn());
            }
            double finish = start + inRoom(place, z, start, now);
            idleMinutes += Math.max(0, start - practitioner);
            double ready = finish + turnaround(place);
            practitioner = two ? finish : ready;
            roomReady.put(place.room(), ready);
            back.put(place.name(), finish);
            end = Math.max(end, ready);
            calls.add(new Call(place, start, due, ready));
        }
        note(calls, end, idleMinutes);
    }

    private void note(List<Call> calls, double end, double idleMinutes) {
        double weight = Math.exp(logWeight);
        for (Call call : calls) {
            String name = call.place().name();
            double waited = Math.max(0, call.start() - call.due());
            wait.get(name).add(weight, waited);
            longWait.get(name).add(weight, waited > Projection.LONG_WAIT_MINUTES ? 1 : 0);
            start.get(name).add(weight, call.start());
            double median = Clock24.minutes(projected.visit(name).starts().median());
            beforeMedianStart.get(name).add(weight, call.start() <= median + 1e-4 ? 1 : 0);
            if (call.place().booked() != null && call.place().slotMinutes() > 0) {
                double slotEnd =
                        Clock24.minutes(call.place().booked()) + call.place().slotMinutes();
                pastSlot.get(name).add(weight, call.ready() > slotEnd ? 1 : 0);
            }
        }
        double to = Clock24.minutes(list.session().to());
        pastEnd.add(weight, end > to ? 1 : 0);
        overtime.add(weight, Math.max(0, end - to));
        idle.add(weight, idleMinutes);
    }

    /** NaN: does not attend. */
    private double arrival(Place place, double booked, double now) {
        if (place.arrived() != null) {
            return Clock24.minutes(place.arrived());
        }
        if (!place.isExpected()) {
            return 0;
        }
        if (random.nextDouble() < place.didNotAttend()) {
            return Double.NaN;
        }
        if (place.arrivals() == Arrivals.EARLY || place.booked() == null) {
            return 0;
        }
        double comes =
                booked - place.arrivals().leadMinutes() + draw(place.arrivals().delay(), 0, 0, 0);
        if (comes <= now) {
            logWeight = Double.NEGATIVE_INFINITY;
        }
        return comes;
    }

    private double inRoom(Place place, double z, double start, double now) {
        if (place.stage() instanceof Stage.Finished over) {
            double took = Clock24.minutes(over.finished()) - Clock24.minutes(over.calledIn());
            if (place.inRoom() instanceof LogNormalMinutes && list.commonSd() > 0) {
                LogNormalMinutes given = given(place, z);
                logWeight += Math.log(Math.max(1e-12, given.cdf(took + 0.5) - given.cdf(took - 0.5)));
            }
            return took;
        }
        double passed = place.stage() instanceof Stage.InRoom ? now - start : 0;
        double time = draw(place.inRoom(), z, list.commonSd(), passed);
        if (time <= passed && passed > 0) {
            logWeight = Double.NEGATIVE_INFINITY;
        }
        return time;
    }

    private LogNormalMinutes given(Place place, double z) {
        LogNormalMinutes normal = (LogNormalMinutes) place.inRoom();
        double s = list.commonSd();
        return new LogNormalMinutes(normal.meanLog() + s * z, Math.sqrt(normal.sdLog() * normal.sdLog() - s * s));
    }

    private double turnaround(Place place) {
        if (place.stage() instanceof Stage.Finished over && over.roomReady() != null) {
            return Clock24.minutes(over.roomReady()) - Clock24.minutes(over.finished());
        }
        return draw(place.turnaround(), 0, 0, 0);
    }

    private double draw(MinutesDistribution time, double z, double s, double passed) {
        if (time instanceof LogNormalMinutes normal) {
            double own = Math.sqrt(normal.sdLog() * normal.sdLog() - s * s);
            return Math.exp(normal.meanLog() + s * z + own * random.nextGaussian());
        }
        return ((FixedMinutes) time).minutes();
    }
}
