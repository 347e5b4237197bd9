package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;

/**
 * Booking one by one: a referral is tried in every free place, the others holding placeholders, and the list priced as
 * it would then run (a rollout: Bertsekas; online appointment sequencing: Erdogan, Gose & Denton 2015; both from
 * memory).
 *
 * <p>The visit takes the place of one placeholder, and the mix is cut again for those left. First this is priced for every
 * free place of every list on a coarse grid, the starts as they stand; then for the cheapest few the starts not confirmed
 * to a patient are set again, and the list priced on the 1 minute grid.
 */
public final class Rollout {

    /** Of many lists so many places of each are worked out: a choice of lists is worth more than one of minutes. */
    private static final int MOST_OF_A_LIST = 3;
    /** At least so many are worked out, since the coarse prices only say which are worth it. */
    private static final int LEAST_WORKED = 6;

    private static final int LISTS_AT_ONCE = 12;

    /** The chance of a late end by the work alone is rough: a list is worth trying up to so many times the limit. */
    private static final double ROUGHLY = 1.25;

    private static final double SEARCH_MINUTES = 2.5;
    private static final int SEARCH_NODES = 3;

    private Rollout() {}

    /**
     * One list with free places, and the referral as it would be in it.
     *
     * @param name the caller's handle
     * @param visit any booked start; its name stands in no list
     * @param leastMinutes of its slot, at least the grid
     * @param mostMinutes of its slot; what the list leaves beyond stays free
     * @param earliest it may start no earlier in this list ("only mornings", a room's hours)
     * @param latest nor later
     * @param extraCost of this list, whatever the place (the days until then)
     * @param limits what the list may come to
     */
    public record Open(
            String name,
            OpenList list,
            Place visit,
            double leastMinutes,
            double mostMinutes,
            LocalTime earliest,
            LocalTime latest,
            double extraCost,
            Limits limits) {

        public Open {
            Bounds.within("least minutes of a slot", leastMinutes, list.stepMinutes(), 24 * 60);
            Bounds.within("most minutes of a slot", mostMinutes, leastMinutes, 24 * 60);
        }

        /** The same within these limits. */
        public Open within(Limits given) {
            return new Open(name, list, visit, leastMinutes, mostMinutes, earliest, latest, extraCost, given);
        }

        /** At any time of the session, in a slot from its {@link #meanSlot} to its {@link #longSlot}. */
        public static Open allDay(String name, OpenList list, Place visit) {
            return allDay(name, list, visit, meanSlot(visit, list.stepMinutes()));
        }

        private static Open allDay(String name, OpenList list, Place visit, double least) {
            double most = Math.max(least, longSlot(visit, list.stepMinutes()));
            return new Open(name, list, visit, least, most, LocalTime.MIN, LocalTime.MAX, 0, Limits.NONE);
        }
    }

    /**
     * What a list may come to, and how full it will be.
     *
     * @param pastEnd P(the session ends late) with those booked and the visit, and nobody else; 0 to 1
     * @param fills chance that the other free places of the list are taken too, 0 to 1: 1 prices the visit against a
     *     usual patient in its place, 0 against nobody, which levels lists that have room to spare
     */
    public record Limits(double pastEnd, double fills) {

        public static final Limits NONE = new Limits(1, 1);

        public Limits {
            Bounds.within("accepted chance of ending late", pastEnd, 0, 1);
            Bounds.within("chance that a list fills", fills, 0, 1);
        }

        /** Whether a list may end late with that chance: judged in whole per cent, as people read it. */
        public boolean allow(double chance) {
            return Math.round(100 * chance) <= Math.round(100 * pastEnd);
        }
    }

    /** Mean time in room and turnaround, rounded down to the grid, at least one step of it. */
    public static double meanSlot(Place visit, double stepMinutes) {
        double mean = visit.inRoom().mean() + visit.turnaround().mean();
        return Math.max(1, Math.floor(mean / stepMinutes + 1e-9)) * stepMinutes;
    }

    /** Where 3 in 4 are over, and the mean turnaround, rounded up to the grid. */
    public static double longSlot(Place visit, double stepMinutes) {
        double long3In4 = visit.inRoom().quantile(0.75) + visit.turnaround().mean();
        return Math.max(1, Math.ceil(long3In4 / stepMinutes - 1e-9)) * stepMinutes;
    }

    /**
     * @param open name of the list
     * @param slotMinutes to the next start of the list, within the bounds given
     * @param ownWaitMinutes expected
     * @param addedWaitMinutes to those booked already, together, against this place staying empty
     * @param pastEnd P(the session ends late), the other places filled as usual
     * @param bookedPastEnd P(the session ends late), nobody else coming
     * @param within whether that keeps to the list's limit; those that do come first
     * @param addedCost price of the list against the same with a placeholder there, so far as the list fills, else
     *     against the same without the visit; and its extra cost; offers are sorted by it
     * @param then the list as it would be, the referral in it
     */
    public record Offer(
            String open,
            LocalTime start,
            double slotMinutes,
            double ownWaitMinutes,
            double addedWaitMinutes,
            double pastEnd,
            double bookedPastEnd,
            boolean within,
            double addedCost,
            Placeholders then) {}

    private record Tried(Open open, LocalTime start, boolean within, double cost) {}

    private static final Comparator<Offer> BEST_FIRST = Comparator.comparing((Offer each) -> !each.within())
            .thenComparingDouble(Offer::addedCost)
            .thenComparing(Offer::open);

    /**
     * The cheapest offers, best first, those within the limit of their list before the others; no two at the same start
     * of a list.
     *
     * @param most how many at most, 1 to 100
     */
    public static List<Offer> offers(List<Open> lists, int most) {
        Bounds.within("number of offers", most, 1, 100);
        int ofEach = Math.max(MOST_OF_A_LIST, most / Math.max(1, lists.size()));
        List<Tried> tried = lists.parallelStream()
                .flatMap(open -> tried(open, ofEach).stream())
                .sorted(Comparator.comparing((Tried each) -> !each.within())
                        .thenComparingDouble(Tried::cost)
                        .thenComparing(each -> each.open().name()))
                .toList();
        int batch = Math.max(LEAST_WORKED, most + 2);
        Map<String, Offer> offers = new HashMap<>();
        for (int from = 0; from < tried.size() && within(offers) < most; from += batch) {
            if (from > 0 && !tried.get(from).within()) {
                break;
            }
            tried.subList(from, Math.min(tried.size(), from + batch)).parallelStream()
                    .map(Rollout::worked)
                    .flatMap(Optional::stream)
                    .toList()
                    .forEach(each -> offers.merge(each.open() + each.start(), each, Rollout::better));
        }
        earliest(tried, most, offers);
        return offers.values().stream().sorted(BEST_FIRST).limit(most).toList();
    }

    /**
     * Where too few of the cheapest places keep to the limit, the first start of each free stretch: a list ends no earlier
     * with the visit at a later start of it. The lists are tried in turn, all of them only if none is found.
     */
    private static void earliest(List<Tried> tried, int most, Map<String, Offer> offers) {
        Map<String, Open> left = new LinkedHashMap<>();
        tried.stream()
                .filter(Tried::within)
                .forEach(each -> left.putIfAbsent(each.open().name(), each.open()));
        List<Open> lists = List.copyOf(left.values());
        for (int from = 0; from < lists.size() && within(offers) < (from == 0 ? most : 1); from += LISTS_AT_ONCE) {
            lists.subList(from, Math.min(lists.size(), from + LISTS_AT_ONCE)).parallelStream()
                    .flatMap(Rollout::earliest)
                    .filter(Offer::within)
                    .toList()
                    .forEach(each -> offers.merge(each.open() + each.start(), each, Rollout::better));
        }
    }

    private static Stream<Offer> earliest(Open open) {
        OpenList list = open.list();
        return list.stretches().stream()
                .flatMap(stretch -> hours(open, Clock24.time(stretch[0])).stream())
                .flatMap(hours -> {
                    double first = onGrid(hours.earliest(), list);
                    Place visit = open.visit().movedTo(Clock24.time(first), open.leastMinutes());
                    return first > hours.latest() + 1e-9
                            ? Stream.<Offer>empty()
                            : sized(open, spaced(list, visit), hours).stream();
                });
    }

    /** The next start on the list's grid from then on. */
    private static double onGrid(double minutes, OpenList list) {
        double from = list.places().list().session().fromMinutes();
        double step = list.stepMinutes();
        return from + Math.ceil((minutes - from) / step - 1e-9) * step;
    }

    private static long within(Map<String, Offer> offers) {
        return offers.values().stream().filter(Offer::within).count();
    }

    /** The cheapest places of a list on the coarse grid. */
    private static List<Tried> tried(Open open, int most) {
        boolean within = open.list().keepsTo(Math.min(1, ROUGHLY * open.limits().pastEnd()), open.visit());
        List<OpenList.Candidate> fits = open.list().candidates(open.visit(), open.earliest(), open.latest()).stream()
                .filter(each -> hours(open, each.start()).isPresent())
                .sorted(Comparator.comparingDouble(OpenList.Candidate::addedCost))
                .limit(most)
                .toList();
        if (fits.isEmpty()) {
            return elsewhere(open, within);
        }
        double fills = open.limits().fills();
        double alone = fills == 1
                ? 0
                : open.list().addedAlone(open.visit().movedTo(fits.get(0).start(), open.leastMinutes()));
        return fits.stream()
                .map(each -> new Tried(
                        open, each.start(), within, fills * each.addedCost() + (1 - fills) * alone + open.extraCost()))
                .toList();
    }

    /** Where the visit fits in no place that a placeholder holds: the first free stretch that has room for it. */
    private static List<Tried> elsewhere(Open open, boolean within) {
        if (open.list().places().free().isEmpty()) {
            return List.of();
        }
        double step = open.list().stepMinutes();
        double earliest = Clock24.minutes(open.earliest());
        return open.list().stretches().stream()
                .map(stretch -> stretch[0] + Math.ceil(Math.max(0, earliest - stretch[0]) / step - 1e-9) * step)
                .map(Clock24::time)
                .filter(start -> hours(open, start).isPresent())
                .limit(1)
                .map(start -> new Tried(open, start, within, open.extraCost()))
                .toList();
    }

    private static Offer better(Offer one, Offer other) {
        return BEST_FIRST.compare(other, one) < 0 ? other : one;
    }

    /**
     * Lists filled one by one, each visit where it is offered first; where it fits nowhere, in a shorter slot.
     *
     * @param empty plans with no places
     * @param counts how many visits each is to hold
     * @param asked in the order in which they ask, as many as all lists together are to hold
     */
    public static List<DayList> booked(
            List<DayList> empty, List<Integer> counts, List<Place> asked, Mix mix, Costs costs, double stepMinutes) {
        List<OpenList> lists = new ArrayList<>();
        for (int i = 0; i < empty.size(); i++) {
            lists.add(OpenList.of(empty.get(i), mix, counts.get(i), costs, stepMinutes));
        }
        for (Place visit : asked) {
            makeRoom(lists, counts, mix, costs, stepMinutes);
            Offer offer = taken(lists, visit, stepMinutes);
            int in = Integer.parseInt(offer.open());
            DayList list = lists.get(in).places().booked();
            List<Place> places = new ArrayList<>(list.places());
            places.add(visit.movedTo(offer.start(), offer.slotMinutes()));
            places.sort(Comparator.comparing(Placeholders::start));
            int left = counts.get(in) - places.size();
            lists.set(in, OpenList.of(list.withPlaces(places), mix, left, costs, stepMinutes));
        }
        return lists.stream().map(each -> each.places().booked()).toList();
    }

    /** A list that is to hold more visits, but has no free start left, gives up what its slots hold beyond one step. */
    private static void makeRoom(List<OpenList> lists, List<Integer> counts, Mix mix, Costs costs, double stepMinutes) {
        for (int i = 0; i < lists.size(); i++) {
            DayList list = lists.get(i).places().booked();
            int left = counts.get(i) - list.places().size();
            if (left > 0 && lists.get(i).places().free().isEmpty()) {
                DayList shorter = list.withPlaces(list.places().stream()
                        .map(each -> each.movedTo(Placeholders.start(each), stepMinutes))
                        .toList());
                lists.set(i, OpenList.of(shorter, mix, left, costs, stepMinutes));
            }
        }
    }

    /** Where it fits nowhere, its slot may be shorter than its mean: all are to be placed. */
    private static Offer taken(List<OpenList> lists, Place visit, double stepMinutes) {
        for (double least = meanSlot(visit, stepMinutes); least > 0; least -= stepMinutes) {
            List<Open> open = new ArrayList<>();
            for (int i = 0; i < lists.size(); i++) {
                open.add(Open.allDay("" + i, lists.get(i), visit, least));
            }
            List<Offer> found = offers(open, 1);
            if (!found.isEmpty()) {
                return found.get(0);
            }
        }
        throw new IllegalArgumentException("the visits do not fit the sessions; give fewer, or a finer grid");
    }

    /** From when to when the visit may start in the free stretch around a place, and where that ends. */
    private record Hours(double earliest, double latest, double end) {}

    /** Empty where the free stretch around the place is too short for the slot. */
    private static Optional<Hours> hours(Open open, LocalTime start) {
        double step = open.list().stepMinutes();
        double at = Clock24.minutes(start);
        for (double[] stretch : open.list().stretches()) {
            if (at >= stretch[0] - 1e-9 && at < stretch[1]) {
                double last =
                        stretch[0] + Math.floor((stretch[1] - open.leastMinutes() - stretch[0]) / step + 1e-9) * step;
                double earliest = Math.max(stretch[0], Clock24.minutes(open.earliest()));
                double latest = Math.min(last, Clock24.minutes(open.latest()));
                return earliest > latest + 1e-9
                        ? Optional.empty()
                        : Optional.of(new Hours(earliest, latest, stretch[1]));
            }
        }
        return Optional.empty();
    }

    private static Optional<Offer> worked(Tried tried) {
        Open open = tried.open();
        return hours(open, tried.start()).flatMap(hours -> {
            double at = Math.min(Clock24.minutes(tried.start()), hours.latest());
            Place visit = open.visit().movedTo(Clock24.time(at), open.leastMinutes());
            OpenList list = open.list();
            return worked(open, list.places().with(visit, tried.start(), list.mix()), hours)
                    .or(() -> worked(open, spaced(list, visit), hours));
        });
    }

    /** The placeholders placed again around the visit if they left it too little time. */
    private static Placeholders spaced(OpenList list, Place visit) {
        DayList booked = list.places().booked();
        List<Place> places = new ArrayList<>(booked.places());
        places.add(visit);
        places.sort(Comparator.comparing(Placeholders::start));
        int others = Math.max(0, list.places().free().size() - 1);
        return Placeholders.around(booked.withPlaces(places), list.mix(), others, list.stepMinutes());
    }

    private static Optional<Offer> worked(Open open, Placeholders before, Hours hours) {
        return sized(open, settled(before, open, hours.earliest(), hours.latest()), hours);
    }

    /** The offer with as long a slot as there is room for; empty where that is too short. */
    private static Optional<Offer> sized(Open open, Placeholders then, Hours hours) {
        double end = hours.end();
        List<Place> all = then.list().places();
        int own = then.list().indexOf(open.visit().name());
        double start = Clock24.minutes(Placeholders.start(all.get(own)));
        double next = own + 1 < all.size() ? Clock24.minutes(Placeholders.start(all.get(own + 1))) : end;
        double slot = Math.min(open.mostMinutes(), Math.min(next, end) - start);
        if (slot < open.leastMinutes() - 1e-9) {
            return Optional.empty();
        }
        return Optional.of(priced(open, then, slot));
    }

    /** The visit and the placeholders put where the list costs least, the visit within its hours. */
    private static Placeholders settled(Placeholders spaced, Open open, double earliest, double latest) {
        DayList list = spaced.list();
        double step = open.list().stepMinutes();
        double cell = Math.min(SEARCH_MINUTES, step);
        int visit = list.indexOf(open.visit().name());
        double[] starts = new double[list.places().size()];
        boolean[] moves = new boolean[starts.length];
        for (int i = 0; i < starts.length; i++) {
            starts[i] = Clock24.minutes(Placeholders.start(list.places().get(i)));
            moves[i] = i == visit || spaced.free().contains(list.places().get(i).name());
        }
        Timetable table = new Timetable(list, list.places(), starts, open.list().costs(), cell, SEARCH_NODES);
        Search search = new Search(table, moves, step / cell);
        search.keepWithin(visit, earliest / cell, latest / cell, open.leastMinutes() / cell);
        search.descend();
        return new Placeholders(search.list(list), spaced.free());
    }

    private static Offer priced(Open open, Placeholders then, double slot) {
        String name = open.visit().name();
        DayList list = then.list();
        Place own = list.places().get(list.indexOf(name));
        DayList with = list.with(own.movedTo(Placeholders.start(own), slot));
        PlanCost.OfOne run = PlanCost.of(
                with, name, each -> !each.equals(name) && !then.free().contains(each));
        Price price = run.all().price(open.list().costs());
        Placeholders placed = new Placeholders(with, then.free());
        Price alone = open.list().alone(placed.booked());
        Limits limits = open.limits();
        return new Offer(
                open.name(),
                Objects.requireNonNull(own.booked()),
                slot,
                run.ownWaitMinutes(),
                run.addedWaitMinutes(),
                price.pastEnd(),
                alone.pastEnd(),
                limits.allow(alone.pastEnd()),
                limits.fills() * (price.total() - open.list().before().total())
                        + (1 - limits.fills())
                                * (alone.total() - open.list().bookedAlone().total())
                        + open.extraCost(),
                placed);
    }
}
