package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import org.earslot.flow.chance.CommonFactor;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;

/**
 * Starts of a planned list set together so that it costs least, and what the search reached.
 *
 * <p>Local search over the grid: each start in turn is put where the list costs least, then every run of neighbouring
 * visits is moved together by one step, until neither helps. For exponential service the cost is multimodular and such
 * a search ends at the optimum (Kaandorp & Koole, Health Care Management Science 10:217, 2007, from memory; theirs
 * moves any set of visits together); otherwise it is repeated from several beginnings and the best is kept. With the
 * order free it begins from the order asked for and from smallest spread first (de Kemp, Mandjes & Olver 2018, from
 * memory), and neighbours change places while that helps.
 *
 * @param list with the new starts, and slots from each start to the next (the last its mean,
 *     rounded up to the grid)
 * @param before price of the list as it was
 * @param after price of the list as it is now
 * @param reached how sure the search is
 */
public record StartTimes(DayList list, Price before, Price after, Reached reached) {

    private static final double AGREES = 1e-3;
    private static final double COARSE_MINUTES = 2.5;
    private static final int COARSE_NODES = 3;

    /**
     * @param stepMinutes grid of the starts, counted from the session's; also the least gap; 1 to 60
     * @param kept names of places that stay where they are (confirmed to the patient)
     * @param orderFree whether the others may change places
     */
    public record Rules(double stepMinutes, Set<String> kept, boolean orderFree) {
        public Rules {
            Bounds.within("grid of the starts", stepMinutes, 1, 60);
            kept = Set.copyOf(kept);
        }

        /** Starts at multiples of {@code step} minutes, from 1 to 60, in the given order. */
        public static Rules everyMinutes(double step) {
            return new Rules(step, Set.of(), false);
        }

        /** The same, and the order of the visits may change. */
        public Rules withOrderFree() {
            return new Rules(stepMinutes, kept, true);
        }
    }

    /**
     * No single move, nor move of a run of visits by one step, improves what was found.
     *
     * @param beginnings the search was run from
     * @param agreed how many of them ended within 0.1 % of the best
     * @param improved false if no list better than the one given was found; the given one is then returned
     */
    public record Reached(int beginnings, int agreed, boolean improved) {}

    /**
     * @param list a plan in the order asked for: every place expected, booked or (to be moved) without a start. Two
     *     rooms are searched as one whose turnaround takes no time of the practitioner's, and priced as they are.
     * @throws IllegalArgumentException if a visit has begun, or the session has too few grid points
     */
    public static StartTimes of(DayList list, Costs costs, Rules rules) {
        check(list, rules);
        Price before = Price.of(list, costs);
        List<Search> ends = new ArrayList<>();
        for (List<Place> order : orders(list, rules)) {
            for (Spread spread : Spread.values()) {
                ends.add(coarse(list, order, spread, costs, rules));
            }
        }
        ends.sort(Comparator.comparingDouble(Search::cost));
        if (rules.orderFree()) {
            ends.get(0).changeNeighbours();
        }
        double best = ends.get(0).cost();
        int agreed = (int) ends.stream()
                .filter(each -> each.cost() <= best + AGREES * Math.abs(best))
                .count();
        DayList found = fine(list, ends.get(0), costs, rules).list(list);
        Price after = Price.of(found, costs);
        boolean improved = after.total() < before.total() || hasUnplaced(list);
        Reached reached = new Reached(ends.size(), agreed, improved);
        return improved ? new StartTimes(found, before, after, reached) : new StartTimes(list, before, before, reached);
    }

    private static boolean hasUnplaced(DayList list) {
        return list.places().stream().anyMatch(each -> each.booked() == null);
    }

    private static void check(DayList list, Rules rules) {
        if (list.places().isEmpty()) {
            throw new IllegalArgumentException("the list is empty; give at least one place");
        }
        if (list.now() != null || list.places().stream().anyMatch(each -> !each.isExpected())) {
            throw new IllegalArgumentException("the list is under way; give one whose patients are all expected");
        }
        double points = (list.session().toMinutes() - list.session().fromMinutes()) / rules.stepMinutes();
        if (list.places().size() > points) {
            throw new IllegalArgumentException(list.places().size() + " visits do not fit " + (int) points
                    + " starts of the session; give fewer visits or a finer grid");
        }
    }

    /** The order asked for; with the order free also smallest spread first, among those that may move. */
    private static List<List<Place>> orders(DayList list, Rules rules) {
        List<List<Place>> orders = new ArrayList<>();
        orders.add(list.places());
        if (rules.orderFree()) {
            List<Place> moving = new ArrayList<>(list.places().stream()
                    .filter(each -> !rules.kept().contains(each.name()))
                    .toList());
            moving.sort(Comparator.comparingDouble(StartTimes::spread));
            List<Place> smallestFirst = new ArrayList<>();
            for (Place place : list.places()) {
                smallestFirst.add(rules.kept().contains(place.name()) ? place : moving.remove(0));
            }
            orders.add(smallestFirst);
        }
        return orders;
    }

    static double spread(Place place) {
        return Math.hypot(place.inRoom().standardDeviation(), place.turnaround().standardDeviation());
    }

    /** Where a search begins: gaps of the mean, wider ones, or the session divided evenly. */
    enum Spread {
        TIGHT(0),
        WIDE(0.35),
        EVEN(Double.NaN);

        final double sds;

        Spread(double sds) {
            this.sds = sds;
        }
    }

    /** On a grid of half the starts' step, at most {@value #COARSE_MINUTES} minutes, and few nodes. */
    private static Search coarse(DayList list, List<Place> order, Spread spread, Costs costs, Rules rules) {
        Search search = begun(list, order, beginning(list, order, spread, rules), costs, rules, true);
        search.descend();
        return search;
    }

    /** From where the coarse search ended, on the grid and the nodes that lists are priced on. */
    private static Search fine(DayList list, Search coarse, Costs costs, Rules rules) {
        Search search = begun(list, coarse.order(), coarse.startMinutes(), costs, rules, false);
        search.descend();
        return search;
    }

    private static Search begun(
            DayList list, List<Place> order, double[] starts, Costs costs, Rules rules, boolean coarse) {
        boolean[] moves = new boolean[order.size()];
        for (int i = 0; i < moves.length; i++) {
            moves[i] = !rules.kept().contains(order.get(i).name());
        }
        double cell = coarse ? Math.max(1, Math.min(COARSE_MINUTES, rules.stepMinutes() / 2)) : 1;
        int nodes = coarse ? COARSE_NODES : CommonFactor.FEW;
        Timetable table = new Timetable(list, order, starts, costs, Math.min(cell, rules.stepMinutes()), nodes);
        return new Search(table, moves, rules.stepMinutes() / table.step);
    }

    private static double[] beginning(DayList list, List<Place> order, Spread spread, Rules rules) {
        double from = list.session().fromMinutes();
        double length = list.session().toMinutes() - from;
        double[] starts = new double[order.size()];
        double at = from;
        for (int i = 0; i < starts.length; i++) {
            Place place = order.get(i);
            LocalTime booked = place.booked();
            if (booked != null && rules.kept().contains(place.name())) {
                starts[i] = Clock24.minutes(booked);
            } else {
                double wanted = spread == Spread.EVEN ? from + i * length / starts.length : at;
                double earliest = i == 0 ? from : starts[i - 1] + rules.stepMinutes();
                starts[i] = onGrid(list.session(), Math.max(wanted, earliest), rules.stepMinutes());
            }
            double gap = place.inRoom().mean() + place.turnaround().mean();
            at = Math.max(at, starts[i]) + gap + (spread == Spread.EVEN ? 0 : spread.sds * spread(place));
        }
        return squeezed(list, order, starts, rules);
    }

    /** The nearest grid point not before {@code wanted} and not in a break. */
    static double onGrid(Session session, double wanted, double step) {
        double from = session.fromMinutes();
        double at = from + Math.ceil((wanted - from) / step - 1e-9) * step;
        for (Break each : session.breaks()) {
            if (at >= Clock24.minutes(each.from()) && at < Clock24.minutes(each.to())) {
                at = from + Math.ceil((Clock24.minutes(each.to()) - from) / step - 1e-9) * step;
            }
        }
        return at;
    }

    /** Brings back, from the last one, starts beyond the session or on top of a later one that stays. */
    private static double[] squeezed(DayList list, List<Place> order, double[] starts, Rules rules) {
        double step = rules.stepMinutes();
        double from = list.session().fromMinutes();
        double latest = list.session().toMinutes() - step;
        for (int i = starts.length - 1; i >= 0; i--) {
            if (!rules.kept().contains(order.get(i).name()) && starts[i] > latest) {
                starts[i] = from + Math.floor((latest - from) / step + 1e-9) * step;
                for (Break each : list.session().breaks()) {
                    if (starts[i] >= Clock24.minutes(each.from()) && starts[i] < Clock24.minutes(each.to())) {
                        starts[i] = from + (Math.ceil((Clock24.minutes(each.from()) - from) / step - 1e-9) - 1) * step;
                    }
                }
            }
            latest = starts[i] - step;
        }
        return starts;
    }
}
