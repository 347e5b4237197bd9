package org.earslot.flow.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import org.earslot.flow.chance.CommonFactor;
import org.earslot.flow.chance.MixedDistribution;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.run.CostAccumulator;
import org.earslot.flow.run.OneRoom;
import org.earslot.flow.run.PreparedPlace;
import org.earslot.flow.run.Projection;
import org.earslot.flow.run.ProjectionRecorder;

/**
 * What a list lets people wait, and the practitioner idle and stay on: the figures of its {@link Projection}, without the
 * clock times, whose projectionRecorder takes most of it.
 */
final class PlanCost {

    private static final double STEP = Projection.STEP_MINUTES;

    private final DayList list;
    private final List<PreparedPlace> lines;
    private final CostAccumulator tally;

    private PlanCost(DayList list, List<PreparedPlace> lines) {
        this.list = list;
        this.lines = lines;
        tally = new CostAccumulator(list.places().size());
    }

    static PlanCost of(DayList list) {
        PlanCost burden = new PlanCost(list, PreparedPlace.of(list, STEP));
        Projection.run(list, burden.lines, STEP, CommonFactor.FEW, burden.tally);
        return burden;
    }

    /**
     * A plan with one visit of it, and what that adds to the waits of others.
     *
     * @param all of the list
     * @param ownWaitMinutes expected, of that visit if it attends
     * @param addedWaitMinutes to those counted, together, each by the chance to attend, against the list without it
     */
    record OfOne(PlanCost all, double ownWaitMinutes, double addedWaitMinutes) {}

    /**
     * Who comes before the visit waits the same with it and without: only from there on is the list run twice.
     *
     * @param name of the visit
     * @param counts whose waits count, by name; not that visit's
     */
    static OfOne of(DayList list, String name, Predicate<String> counts) {
        PlanCost all = new PlanCost(list, PreparedPlace.of(list, STEP));
        int own = all.at(name);
        int end = all.lines.size();
        while (end > own + 1 && !counts.test(all.lines.get(end - 1).place().name())) {
            end--;
        }
        double added = all.runWithout(own, end, counts);
        return new OfOne(all, all.reading(all.lines.get(own)).waitMinutes(), added);
    }

    /** Runs the list; answers what the visit at {@code own} adds to the waits of those counted up to {@code end}. */
    private double runWithout(int own, int end, Predicate<String> counts) {
        PreparedPlace line = lines.get(own);
        List<PreparedPlace> later = lines.subList(own + 1, end);
        if (later.isEmpty() || line.attends() == 0) {
            Projection.run(list, lines, STEP, CommonFactor.FEW, tally);
            return 0;
        }
        if (list.hasTwoRooms()) {
            Projection.run(list, lines, STEP, CommonFactor.FEW, tally);
            List<Place> others = new ArrayList<>(list.places());
            others.remove(line.index());
            PlanCost without = of(list.withPlaces(others));
            return waits(lines, counts) - without.waits(without.lines, counts);
        }
        PlanCost without = new PlanCost(list, lines);
        CommonFactor factor = CommonFactor.of(list.commonSd(), List.of(), CommonFactor.FEW);
        for (int k = 0; k < factor.z().length; k++) {
            OneRoom room = new OneRoom(list, STEP, factor.z()[k], factor.weight()[k], tally);
            room.run(lines.subList(0, own));
            OneRoom empty = room.passing(line, without.tally);
            room.run(lines.subList(own, lines.size()));
            empty.run(later);
        }
        OneRoom.settle(list, STEP, lines, tally);
        OneRoom.settle(tally.rows[line.index()].chair.law(), STEP, later, without.tally);
        return waits(later, counts) - without.waits(later, counts);
    }

    Price price(Costs costs) {
        double wait = 0;
        double idle = 0;
        for (PreparedPlace line : lines) {
            ProjectionRecorder projectionRecorder = reading(line);
            wait += line.attends() * projectionRecorder.waitMinutes();
            idle += projectionRecorder.idleMinutes();
        }
        double to = list.session().toMinutes() / STEP;
        MixedDistribution end = tally.end.law();
        double over = end.excess(to) * STEP;
        double total = costs.waitMinute() * wait + costs.idleMinute() * idle + costs.overtimeMinute() * over;
        return new Price(total, wait, idle, over, end.above(to));
    }

    private double waits(List<PreparedPlace> some, Predicate<String> counts) {
        return some.stream()
                .filter(line -> counts.test(line.place().name()))
                .mapToDouble(line -> line.attends() * reading(line).waitMinutes())
                .sum();
    }

    private ProjectionRecorder reading(PreparedPlace line) {
        return new ProjectionRecorder(line, tally.rows[line.index()], STEP);
    }

    private int at(String name) {
        for (int i = 0; i < lines.size(); i++) {
            if (lines.get(i).place().name().equals(name)) {
                return i;
            }
        }
        throw new IllegalArgumentException("no place has the name given; give one of the list's");
    }
}
