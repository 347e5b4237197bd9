package org.earslot.flow.run;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.chance.CommonFactor;
import org.earslot.flow.chance.MixedDistribution;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Stage;
import org.jspecify.annotations.Nullable;

/**
 * How a list is expected to run. Computed, not drawn at random: the same list gives the same projection.
 *
 * <p>A patient's figures are those if that patient attends. Wait counts from the later of booked start and arrival to
 * called in; idle is the practitioner waiting for the next patient or a room, between visits and before the first, not
 * in breaks nor after the last; overtime is past the session's end until the last room is ready.
 *
 * <p>Accuracy of the 1 minute grid: minutes and clock times are right to 0.1 minutes, chances to 0.002, and in one room
 * ten times as near where no turnaround spreads by less than two minutes. A time that is certain is exact. Clock times past the day's end read 23:59:59.
 *
 * @param visits in the order of the list given
 * @param pastEnd P(the last room is ready after the session's end)
 * @param overtimeMinutes expected, at least 0
 * @param idleMinutes expected, at least 0
 */
public record Projection(List<Visit> visits, double pastEnd, double overtimeMinutes, double idleMinutes) {

    /** A wait is long above this. */
    public static final double LONG_WAIT_MINUTES = 10;

    /** The grid a projection for a screen is computed on. */
    public static final double STEP_MINUTES = 1;

    /**
     * One place of the list. Where nobody will come ({@link Stage.Away}), times are null and numbers 0.
     *
     * @param attends chance that the visit takes place, given what is known now
     * @param starts called in
     * @param finishes the patient leaves the room
     * @param waitMinutes expected
     * @param longWait P(wait > 10 minutes)
     * @param pastSlot P(room ready after the slot's end); 0 where there is no slot
     */
    public record Visit(
            String name,
            double attends,
            @Nullable Points starts,
            @Nullable Points finishes,
            double waitMinutes,
            double longWait,
            double pastSlot) {}

    /**
     * Clock times with this chance of not being passed.
     *
     * @param tenth 10 in 100
     * @param median 50 in 100
     * @param fourFifths 80 in 100
     * @param ninetieth 90 in 100
     * @param ninetyFifth 95 in 100
     */
    public record Points(
            LocalTime tenth, LocalTime median, LocalTime fourFifths, LocalTime ninetieth, LocalTime ninetyFifth) {}

    public Projection {
        visits = List.copyOf(visits);
    }

    /** The projection on the 1 minute grid. */
    public static Projection of(DayList list) {
        return of(list, STEP_MINUTES);
    }

    /** @param step minutes of the grid, above 0, at most 5 */
    public static Projection of(DayList list, double step) {
        return of(list, step, CommonFactor.FEW);
    }

    /**
     * @param step minutes of the grid, above 0, at most 5
     * @param nodes of the common factor, 1 to 31. Five leave means right to a hundredth; chances err by up to 0.006
     *     where the common factor outweighs the visits' own spread (s times the list's minutes well above the root of
     *     the summed variances), and fifteen by less than 0.0001.
     */
    public static Projection of(DayList list, double step, int nodes) {
        Bounds.within("grid step", step, 1e-3, 5);
        Bounds.within("nodes", nodes, 1, 31);
        List<PreparedPlace> lines = PreparedPlace.of(list, step);
        return read(list, lines, tally(list, lines, step, nodes), step);
    }

    /**
     * The visit of that name.
     *
     * @throws IllegalArgumentException if there is none
     */
    public Visit visit(String name) {
        return visits.stream()
                .filter(each -> each.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no place has the name given; give one of the list's"));
    }

    /** Expected waits of all patients together, each weighted by the chance to attend. */
    public double totalWaitMinutes() {
        return visits.stream()
                .mapToDouble(each -> each.attends() * each.waitMinutes())
                .sum();
    }

    /** P(wait > x) of a patient who attends, for x = 0, 1, ..., {@code most} minutes. */
    public static double[] waitTail(DayList list, int most) {
        List<PreparedPlace> lines = PreparedPlace.of(list, STEP_MINUTES);
        CostAccumulator tally = tally(list, lines, STEP_MINUTES, CommonFactor.FEW);
        double[] tail = new double[most + 1];
        double attending = 0;
        for (PreparedPlace line : lines) {
            if (line.attends() > 0) {
                ProjectionRecorder reading = new ProjectionRecorder(line, tally.rows[line.index()], STEP_MINUTES);
                attending += line.attends();
                for (int x = 0; x <= most; x++) {
                    tail[x] += line.attends() * reading.waitAbove(x);
                }
            }
        }
        for (int x = 0; x <= most; x++) {
            tail[x] /= Math.max(1e-12, attending);
        }
        return tail;
    }

    static CostAccumulator tally(DayList list, List<PreparedPlace> lines, double step, int nodes) {
        CostAccumulator tally = new CostAccumulator(list.places().size());
        run(list, lines, step, nodes, tally);
        return tally;
    }

    /**
     * Runs {@code list} at each of {@code nodes} nodes of the day's common factor and adds it up in {@code tally}.
     *
     * @param step minutes of a cell
     */
    public static void run(DayList list, List<PreparedPlace> lines, double step, int nodes, CostAccumulator tally) {
        CommonFactor factor = CommonFactor.of(list.commonSd(), seen(list, lines), nodes);
        boolean two = list.hasTwoRooms();
        for (int k = 0; k < factor.z().length; k++) {
            double z = factor.z()[k];
            double weight = factor.weight()[k];
            if (two) {
                new TwoRooms(list, step, z, weight, tally).run(lines);
            } else {
                new OneRoom(list, step, z, weight, tally).run(lines);
            }
        }
        if (!two) {
            OneRoom.settle(list, step, lines, tally);
        }
    }

    /** Finished visits are known to the minute; one in progress has lasted so long. */
    private static List<CommonFactor.Seen> seen(DayList list, List<PreparedPlace> lines) {
        List<CommonFactor.Seen> seen = new ArrayList<>();
        for (PreparedPlace line : lines) {
            if (line.place().stage() instanceof Stage.Finished over) {
                double took = Clock24.minutes(over.finished()) - Clock24.minutes(over.calledIn());
                seen.add(new CommonFactor.Seen(line.room(), took - 0.5, took + 0.5));
            } else if (line.place().stage() instanceof Stage.InRoom inside && list.now() != null) {
                double passed = Clock24.minutes(list.now()) - Clock24.minutes(inside.calledIn());
                seen.add(new CommonFactor.Seen(line.room(), passed, Double.POSITIVE_INFINITY));
            }
        }
        return seen;
    }

    private static Projection read(DayList list, List<PreparedPlace> lines, CostAccumulator tally, double step) {
        Visit[] visits = new Visit[lines.size()];
        double idle = 0;
        for (PreparedPlace line : lines) {
            ProjectionRecorder reading = new ProjectionRecorder(line, tally.rows[line.index()], step);
            visits[line.index()] = reading.visit();
            idle += reading.idleMinutes();
        }
        double to = list.session().toMinutes() / step;
        MixedDistribution end = tally.end.law();
        return new Projection(List.of(visits), end.above(to), end.excess(to) * step, idle);
    }
}
