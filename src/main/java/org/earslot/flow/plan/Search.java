package org.earslot.flow.plan;

import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;

/** Local search over the starts (and the order) of one {@link Timetable}; ends where no move helps. */
final class Search {

    private static final double WORTH = 1e-9;
    private static final double ALMOST = 1e-9;
    private static final int MOST_ROUNDS = 200;

    private final Timetable table;
    private final boolean[] moves;
    /** Step of the starts, in cells. */
    private final double step;

    private int bound = -1;
    private double least;
    private double earliest = Double.NEGATIVE_INFINITY;
    private double latest = Double.POSITIVE_INFINITY;
    private double cost;

    Search(Timetable table, boolean[] moves, double step) {
        this.table = table;
        this.moves = moves;
        this.step = step;
        cost = table.run();
    }

    double cost() {
        return cost;
    }

    /** The places as they stand now. */
    List<Place> order() {
        List<Place> order = new ArrayList<>();
        for (int i = 0; i < table.size(); i++) {
            order.add(table.place(i));
        }
        return order;
    }

    double[] startMinutes() {
        double[] minutes = table.starts();
        for (int i = 0; i < minutes.length; i++) {
            minutes[i] *= table.step;
        }
        return minutes;
    }

    /** One visit is not moved out of these hours, and keeps at least so much before the next one (cells). */
    void keepWithin(int visit, double from, double to, double gap) {
        bound = visit;
        earliest = from;
        latest = to;
        least = gap;
    }

    void descend() {
        for (int round = 0; round < MOST_ROUNDS; round++) {
            boolean better = oneByOne();
            better |= !better && together();
            if (!better && !acrossBreaks()) {
                return;
            }
        }
    }

    /** Puts every start where the list costs least, the others standing still. */
    private boolean oneByOne() {
        double before = cost;
        table.run();
        table.lookBack();
        for (int i = 0; i < table.size(); i++) {
            if (moves[i]) {
                table.setStart(i, bestStart(i));
            }
            table.advance(i);
        }
        cost = table.run();
        return cost < before - WORTH * Math.abs(before);
    }

    private double bestStart(int i) {
        double best = table.start(i);
        double least = table.costFrom(i, best) * (1 - WORTH);
        double now = best;
        int reach = (int) (Timetable.PAD_MINUTES / table.step / step);
        for (int side = -1; side <= 1; side += 2) {
            double last = Double.POSITIVE_INFINITY;
            for (int m = 1; m <= reach; m++) {
                double start = now + side * m * step;
                if (!fits(i, i, start - now)) {
                    break;
                }
                double there = table.costFrom(i, start);
                if (there < least) {
                    least = there;
                    best = start;
                } else if (there > last && m > 3) {
                    break;
                }
                last = there;
            }
        }
        return best;
    }

    /** Moves runs of neighbours by one step; takes the best move for each first visit of a run. */
    private boolean together() {
        double before = cost;
        table.lookBack();
        for (int i = 0; i < table.size(); i++) {
            int last = i;
            while (last + 1 < table.size() && moves[last] && moves[last + 1]) {
                last++;
            }
            if (moves[i] && last > i && bestRun(i, last)) {
                cost = table.run();
                table.lookBack();
            }
        }
        return cost < before - WORTH * Math.abs(before);
    }

    private boolean bestRun(int i, int last) {
        double least = table.costFrom(i, table.start(i)) * (1 - WORTH);
        int end = -1;
        double by = 0;
        for (int side = -1; side <= 1; side += 2) {
            double[] costs = table.costsOfShifts(i, last, side * step);
            for (int j = i; j <= last; j++) {
                if (costs[j - i] < least && fits(i, j, side * step)) {
                    least = costs[j - i];
                    end = j;
                    by = side * step;
                }
            }
        }
        for (int j = i; j <= end; j++) {
            table.setStart(j, table.start(j) + by);
        }
        return end >= 0;
    }

    /** The last visit before a break goes to the first start after it, and the other way round. */
    private boolean acrossBreaks() {
        for (Break each : table.breaks) {
            double begin = Clock24.minutes(each.from()) / table.step;
            double end = Clock24.minutes(each.to()) / table.step;
            int first = 0;
            while (first < table.size() && table.start(first) < begin) {
                first++;
            }
            double after = table.from + Math.ceil((end - table.from) / step - 1e-9) * step;
            double before = table.from + (Math.ceil((begin - table.from) / step - 1e-9) - 1) * step;
            if (first > 0 && jump(first - 1, after) || first < table.size() && jump(first, before)) {
                return true;
            }
        }
        return false;
    }

    /** Visit i goes to {@code start}, its neighbours make way; accepted if the list is better after a descent of its own. */
    private boolean jump(int i, double start) {
        if (!moves[i]) {
            return false;
        }
        double[] kept = table.starts();
        double before = cost;
        table.setStart(i, start);
        for (int j = i + 1; j < table.size() && table.start(j) < table.start(j - 1) + step; j++) {
            table.setStart(j, table.start(j - 1) + step);
        }
        for (int j = i - 1; j >= 0 && table.start(j) > table.start(j + 1) - step; j--) {
            table.setStart(j, table.start(j + 1) - step);
        }
        if (isAllowed(kept)) {
            cost = table.run();
            for (int round = 0; round < 4 && oneByOne(); round++) {
                // each round only improves the list
            }
            if (cost < before - WORTH * Math.abs(before)) {
                return true;
            }
        }
        table.setStarts(kept);
        cost = table.run();
        return false;
    }

    private boolean isAllowed(double[] kept) {
        for (int i = 0; i < table.size(); i++) {
            double start = table.start(i);
            if (start < table.from || start > table.to - step || inBreak(start) || (!moves[i] && start != kept[i])) {
                return false;
            }
            if (i == bound && !isWithinHours(start) || i > 0 && start < table.start(i - 1) + gapAfter(i - 1) - ALMOST) {
                return false;
            }
        }
        return true;
    }

    private boolean inBreak(double start) {
        return table.breaks.stream()
                .anyMatch(each -> start >= Clock24.minutes(each.from()) / table.step
                        && start < Clock24.minutes(each.to()) / table.step);
    }

    /** Whether visits i..j may move together by so much: gaps, the session and the breaks allow it. */
    private boolean fits(int i, int j, double by) {
        double first = table.start(i) + by;
        double last = table.start(j) + by;
        boolean room = first >= (i == 0 ? table.from : table.start(i - 1) + gapAfter(i - 1))
                && last <= (j == table.size() - 1 ? table.to - step : table.start(j + 1) - gapAfter(j));
        for (int k = i; room && k <= j; k++) {
            double then = table.start(k) + by;
            room = (k != bound || isWithinHours(then))
                    && segment(table.start(k)) == segment(table.start(k) + by)
                    && !inBreak(table.start(k) + by);
        }
        return room;
    }

    private boolean isWithinHours(double start) {
        return start >= earliest - ALMOST && start <= latest + ALMOST;
    }

    /** A confirmed slot is not moved into; else the next start is a step away at least. */
    private double gapAfter(int i) {
        if (i == bound) {
            return Math.max(step, least);
        }
        return moves[i] ? step : Math.max(step, table.place(i).slotMinutes() / table.step);
    }

    private int segment(double start) {
        int passed = 0;
        for (Break each : table.breaks) {
            passed += start >= Clock24.minutes(each.from()) / table.step ? 1 : 0;
        }
        return passed;
    }

    /** Neighbours change places while that improves the list. */
    void changeNeighbours() {
        boolean better = true;
        for (int round = 0; better && round < table.size(); round++) {
            better = false;
            for (int i = 0; i + 1 < table.size(); i++) {
                better |= moves[i] && moves[i + 1] && tryChange(i, i + 1);
            }
        }
        descend();
    }

    private boolean tryChange(int i, int j) {
        double before = cost;
        double[] kept = table.starts();
        table.swap(i, j);
        cost = table.run();
        oneByOne();
        if (cost < before - WORTH * Math.abs(before)) {
            return true;
        }
        table.swap(i, j);
        table.setStarts(kept);
        cost = before;
        return false;
    }

    /** Mean time in room and turnaround, rounded up to the grid of the starts. */
    private double meanSlot(Place place) {
        double minutes = step * table.step;
        return Math.ceil((place.inRoom().mean() + place.turnaround().mean()) / minutes) * minutes;
    }

    DayList list(DayList given) {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < table.size(); i++) {
            Place place = table.place(i);
            double start = table.start(i) * table.step;
            double slot = i == table.size() - 1 ? meanSlot(place) : table.start(i + 1) * table.step - start;
            places.add(moves[i] ? place.movedTo(Clock24.time(start), slot) : place);
        }
        return given.withPlaces(places);
    }
}
