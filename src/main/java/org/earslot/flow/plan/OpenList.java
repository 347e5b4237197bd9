package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.jspecify.annotations.Nullable;

/**
 * A list with free places made ready to be asked about: the placeholders' starts set together, the list run forwards and
 * backwards once on a coarse grid. A referral is then priced in each free place without running the list again.
 *
 * <p>Changes no more once made; many threads may ask at once. Worth keeping for as long as the list stays the same.
 */
public final class OpenList {

    private static final double COARSE_MINUTES = 5;
    private static final int COARSE_NODES = 3;

    private final Placeholders places;
    private final Mix mix;
    private final Costs costs;
    private final double stepMinutes;
    private final @Nullable Holes holes;
    private final List<double[]> stretches;
    private volatile @Nullable Price before;
    private volatile @Nullable Price bookedAlone;
    private volatile @Nullable Double coarselyBefore;

    /**
     * The list with one free place left open and the mix cut again for the others, whichever place it is.
     *
     * @param until runs as such a list up to the open place
     * @param from and from it on
     * @param filled cost of the list with a placeholder in every free place, on the same grid
     */
    private record Holes(Timetable until, Timetable from, double filled) {}

    private OpenList(Placeholders places, Mix mix, Costs costs, double stepMinutes, @Nullable Holes holes) {
        this.places = places;
        this.mix = mix;
        this.costs = costs;
        this.stepMinutes = stepMinutes;
        this.holes = holes;
        this.stretches = Placeholders.stretches(places.booked(), stepMinutes);
    }

    /** A free place and what the list costs more with the referral in it, on the coarse grid. */
    record Candidate(int place, LocalTime start, double addedCost) {}

    /**
     * @param booked a plan, in order of start
     * @param mix what else will be booked
     * @param most how many more visits are to come; fewer where fewer starts are free
     * @param stepMinutes grid of the starts, 1 to 60
     */
    public static OpenList of(DayList booked, Mix mix, int most, Costs costs, double stepMinutes) {
        Bounds.within("grid of the starts", stepMinutes, 1, 60);
        Placeholders spaced = Placeholders.around(booked, mix, Math.max(0, most), stepMinutes);
        if (spaced.free().isEmpty()) {
            return new OpenList(spaced, mix, costs, stepMinutes, null);
        }
        DayList list = spaced.list();
        double[] starts = new double[list.places().size()];
        boolean[] moves = new boolean[starts.length];
        for (int i = 0; i < starts.length; i++) {
            starts[i] = Clock24.minutes(Placeholders.start(list.places().get(i)));
            moves[i] = spaced.free().contains(list.places().get(i).name());
        }
        Timetable table = new Timetable(list, list.places(), starts, costs, COARSE_MINUTES, COARSE_NODES);
        // Starts keep to their grid also where the search moves them by several of its steps at once.
        double moved = Math.ceil(COARSE_MINUTES / stepMinutes - 1e-9) * stepMinutes;
        Search search = new Search(table, moves, moved / COARSE_MINUTES);
        search.descend();
        Placeholders set = new Placeholders(search.list(list), spaced.free());
        return new OpenList(set, mix, costs, stepMinutes, holes(set, mix, costs, search.cost()));
    }

    private static Holes holes(Placeholders set, Mix mix, Costs costs, double filled) {
        Timetable until = table(set.cutFor(mix, 0), costs);
        until.run();
        Timetable from = table(set.cutFor(mix, 1), costs);
        from.run();
        from.lookBack();
        return new Holes(until, from, filled);
    }

    private static Timetable table(DayList list, Costs costs) {
        double[] starts = list.places().stream()
                .mapToDouble(place -> Clock24.minutes(Placeholders.start(place)))
                .toArray();
        return new Timetable(list, list.places(), starts, costs, COARSE_MINUTES, COARSE_NODES);
    }

    /** The list as it stands: booked visits and placeholders. */
    public Placeholders places() {
        return places;
    }

    /** What is free, in minutes. */
    List<double[]> stretches() {
        return stretches;
    }

    Mix mix() {
        return mix;
    }

    Costs costs() {
        return costs;
    }

    double stepMinutes() {
        return stepMinutes;
    }

    /** What the list costs with its placeholders, on the 1 minute grid; worked out once. */
    Price before() {
        Price known = before;
        if (known == null) {
            known = Price.of(places.list(), costs);
            before = known;
        }
        return known;
    }

    /** What those booked alone cost, on the 1 minute grid; worked out once. */
    Price bookedAlone() {
        Price known = bookedAlone;
        if (known == null) {
            known = alone(places.booked());
            bookedAlone = known;
        }
        return known;
    }

    /** What visits that nobody follows cost: waits and overtime; that a place stays free makes nobody idle. */
    Price alone(DayList visits) {
        Costs counted = new Costs(costs.waitMinute(), 0, costs.overtimeMinute());
        return visits.places().isEmpty() ? new Price(0, 0, 0, 0, 0) : Price.of(visits, counted);
    }

    /** What a visit at its start adds to the cost of those booked alone, on the coarse grid. */
    double addedAlone(Place visit) {
        DayList booked = places.booked();
        List<Place> all = new ArrayList<>(booked.places());
        all.add(visit);
        all.sort(Comparator.comparing(Placeholders::start));
        Double before = coarselyBefore;
        if (before == null) {
            before = coarselyAlone(booked);
            coarselyBefore = before;
        }
        return coarselyAlone(booked.withPlaces(all)) - before;
    }

    private double coarselyAlone(DayList visits) {
        Costs counted = new Costs(costs.waitMinute(), 0, costs.overtimeMinute());
        return visits.places().isEmpty() ? 0 : table(visits, counted).run();
    }

    /** Whether the work of those booked and of this visit, taken as normal, lasts too long with no more than that chance. */
    boolean keepsTo(double acceptedPastEnd, Place visit) {
        if (acceptedPastEnd >= 1) {
            return true;
        }
        DayList booked = places.booked();
        Workload work = Workload.of(booked).plus(Workload.of(booked.withPlaces(List.of(visit))));
        return work.upTo(Workload.score(Math.max(1e-6, acceptedPastEnd)), booked.commonSd())
                <= Workload.length(booked.session());
    }

    /** Each free place from {@code earliest} to {@code latest}, the visit put into it, the others cut again. */
    List<Candidate> candidates(Place visit, LocalTime earliest, LocalTime latest) {
        List<Candidate> found = new ArrayList<>();
        Holes open = holes;
        if (open == null) {
            return found;
        }
        List<Place> all = places.list().places();
        for (int i = 0; i < all.size(); i++) {
            LocalTime start = Placeholders.start(all.get(i));
            boolean within = !start.isBefore(earliest) && !start.isAfter(latest);
            if (within && places.free().contains(all.get(i).name())) {
                found.add(new Candidate(i, start, open.until.costWith(i, visit, open.from) - open.filled));
            }
        }
        return found;
    }
}
