package org.earslot.flow.run;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.earslot.flow.chance.ContinuousPart;
import org.earslot.flow.chance.Joint;
import org.earslot.flow.chance.LatticeDistribution;
import org.earslot.flow.chance.MixedDistribution;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.jspecify.annotations.Nullable;

/**
 * The run of a list in two rooms at one value of the common factor. The practitioner is free when a visit is finished;
 * somebody else turns the room round meanwhile:
 *
 * <pre>start = max(arrival, practitioner free, this room ready, floor)    room ready = start + time in room + turnaround</pre>
 *
 * <p>The state after a visit is the practitioner's time jointly with the other room's, and the turnaround just begun.
 * Patients who may not attend make several such states possible; all are carried, by the visit that took place last.
 * A second call-in is due back independently of the practitioner's time.
 */
final class TwoRooms {

    /** States less likely than this are dropped; the others' weights are scaled up. */
    private static final double NEGLIGIBLE = 1e-5;

    private record State(double weight, String room, LatticeDistribution turnaround, Joint free) {
        /** When the practitioner is free and {@code wanted} is ready, jointly with the room left behind. */
        Joint readyIn(String wanted) {
            return wanted.equals(room) ? free.plus(turnaround) : free.swap(turnaround);
        }
    }

    /** A distribution averaged over the states. */
    private static final class Blend {
        private double total;
        private @Nullable LatticeDistribution sum;

        void add(double weight, LatticeDistribution mass) {
            total += weight;
            sum = sum == null || total == 0 ? mass : LatticeDistribution.either(1 - weight / total, sum, mass);
        }

        LatticeDistribution mass() {
            return Objects.requireNonNull(sum);
        }
    }

    private final DayList list;
    private final double step;
    private final double z;
    private final double weight;
    private final CostAccumulator costAccumulator;
    private List<State> states;
    private final Map<String, LatticeDistribution> due = new HashMap<>();

    TwoRooms(DayList list, double step, double z, double weight, CostAccumulator costAccumulator) {
        this.list = list;
        this.step = step;
        this.z = z;
        this.weight = weight;
        this.costAccumulator = costAccumulator;
        LatticeDistribution from = LatticeDistribution.sure(list.session().fromMinutes() / step);
        states = List.of(new State(1, list.places().get(0).room(), LatticeDistribution.sure(0), Joint.alone(from, 0)));
    }

    void run(List<PreparedPlace> lines) {
        for (PreparedPlace line : lines) {
            line.breaks().forEach(this::pause);
            if (line.attends() > 0) {
                visit(line);
            }
        }
        Blend end = new Blend();
        states.forEach(state -> end.add(state.weight(), state.free().bothOut(state.turnaround())));
        costAccumulator.end.add(weight, MixedDistribution.of(end.mass()));
    }

    /**
     * The room left behind goes on being turned round during the break. Split by whether the practitioner was free in
     * time: if so the break ends on time, and what is left of the turnaround is independent of that; if not, it lasts
     * the least minutes.
     */
    private void pause(Break pause) {
        double least = pause.leastMinutes() / step;
        double to = Clock24.minutes(pause.to()) / step;
        List<State> after = new ArrayList<>();
        for (State state : states) {
            double inTime = state.free().chanceBefore(to - least);
            if (inTime > NEGLIGIBLE) {
                Joint part = state.free().given(true, to - least);
                LatticeDistribution left =
                        part.base().plus(state.turnaround()).later(-to).noEarlierThan(0);
                after.add(new State(state.weight() * inTime, state.room(), left, part.noEarlierThan(to)));
            }
            if (inTime < 1 - NEGLIGIBLE) {
                Joint part = state.free().given(false, to - least).plus(LatticeDistribution.sure(least));
                LatticeDistribution left = state.turnaround().later(-least).noEarlierThan(0);
                after.add(new State(state.weight() * (1 - inTime), state.room(), left, part));
            }
        }
        states = after;
    }

    private void visit(PreparedPlace line) {
        MixedDistribution timeInRoom = line.timeInRoom(z, list.now(), step, ContinuousPart.TAIL);
        LatticeDistribution time = timeInRoom.lattice();
        LatticeDistribution turnaround = line.turnaround().lattice();
        Place.SecondCall again = line.place().again();
        LatticeDistribution back = again == null ? null : due.get(again.of());
        CostAccumulator.Blend chair = new CostAccumulator.Blend();
        Blend begun = new Blend();
        Blend finish = new Blend();
        Joint after = null;
        double total = 0;
        double freeMean = 0;
        for (State state : states) {
            Joint ready = state.readyIn(line.place().room());
            chair.add(state.weight(), MixedDistribution.of(ready.base()));
            freeMean += state.weight() * state.free().base().mean();
            Joint started = line.place().wasCalledIn() ? ready.knownAt(line.calledIn(step)) : line.start(ready);
            if (back != null && !line.place().wasCalledIn()) {
                started = started.laterOf(back);
            }
            begun.add(state.weight(), started.base());
            Joint gone = started.plus(time);
            finish.add(state.weight(), gone.base());
            total += state.weight();
            after = after == null ? gone : Joint.either(1 - state.weight() / total, after, gone);
        }
        LatticeDistribution finished = line.place().wasCalledIn()
                ? LatticeDistribution.sure(line.calledIn(step)).plus(time)
                : finish.mass();
        MixedDistribution over =
                back == null ? start(line, chair.law()).plus(timeInRoom) : MixedDistribution.of(finished);
        costAccumulator.rows[line.index()].add(weight, freeMean, chair.law(), over, over.plus(line.turnaround()));
        if (back != null) {
            double wait = Math.max(0, finished.mean() - time.mean() - back.mean());
            double limit = back.mean() + Projection.LONG_WAIT_MINUTES / step;
            costAccumulator.rows[line.index()].addWait(
                    weight, wait * step, begun.mass().above(limit), MixedDistribution.of(begun.mass()));
        }
        noteDue(line.place().name(), finished);
        if (after != null) {
            follow(line, turnaround, after);
        }
    }

    /** Of who waits for the chair and the own arrival alone: read from these it is nearer than off the grid. */
    private MixedDistribution start(PreparedPlace line, MixedDistribution chair) {
        return line.place().wasCalledIn() ? MixedDistribution.sure(line.calledIn(step)) : line.start(chair);
    }

    private void noteDue(String name, LatticeDistribution finished) {
        for (Place place : list.places()) {
            if (place.again() != null && place.again().of().equals(name)) {
                due.put(name, finished.later(place.again().minutesOutside() / step));
            }
        }
    }

    private void follow(PreparedPlace line, LatticeDistribution turnaround, Joint after) {
        List<State> next = new ArrayList<>();
        next.add(new State(line.attends(), line.place().room(), turnaround, after));
        for (State state : states) {
            double left = state.weight() * (1 - line.attends());
            if (left > NEGLIGIBLE) {
                next.add(new State(left, state.room(), state.turnaround(), state.free()));
            }
        }
        double total = next.stream().mapToDouble(State::weight).sum();
        states = next.stream()
                .map(each -> new State(each.weight() / total, each.room(), each.turnaround(), each.free()))
                .toList();
    }
}
