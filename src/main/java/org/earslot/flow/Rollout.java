package org.earslot.flow;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Booking one by one: a referral is tried in every free place, the others holding placeholders, and the list priced as
 * it would then run (a rollout: Bertsekas; online appointment sequencing: Erdogan, Gose & Denton 2015; both from
 * memory).
 *
 * <p>First every free place of every list is priced on a coarse grid with its start as it stands; then for the cheapest
 * few the placeholders are cut again from the mix, the starts not confirmed to a patient set again, and the list priced
 * on the 1 minute grid.
 */
public final class Rollout {

    private static final double COARSE_MINUTES = 5;
    private static final int COARSE_NODES = 3;

    private Rollout() {}

    /**
     * One list with free places.
     *
     * @param name the caller's handle
     * @param earliest the referral may start no earlier in this list ("only mornings", a room's hours)
     * @param latest nor later
     */
    public record Open(String name, Placeholders places, LocalTime earliest, LocalTime latest) {
        public static Open allDay(String name, Placeholders places) {
            return new Open(name, places, LocalTime.MIN, LocalTime.MAX);
        }
    }

    /**
     * @param open name of the list
     * @param slotMinutes to the next start of the list
     * @param ownWaitMinutes expected
     * @param addedWaitMinutes to those booked already, together, against a patient of the usual kind in this place
     * @param pastEnd P(the session ends late)
     * @param addedCost price of the list against the same with a placeholder there; offers are sorted by it
     * @param then the list as it would be, the referral in it
     */
    public record Offer(
            String open,
            LocalTime start,
            double slotMinutes,
            double ownWaitMinutes,
            double addedWaitMinutes,
            double pastEnd,
            double addedCost,
            Placeholders then) {}

    /**
     * The cheapest offers, best first.
     *
     * @param visit the referral, any booked start; its name stands in no list
     * @param stepMinutes grid of the starts
     * @param most how many at most, from 1
     */
    public static List<Offer> offers(
            List<Open> lists, Place visit, Mix mix, Costs costs, double stepMinutes, int most) {
        Bounds.within("number of offers", most, 1, 100);
        List<Candidate> candidates = new ArrayList<>();
        for (Open open : lists) {
            candidates.addAll(candidates(open, visit, costs));
        }
        candidates.sort(Comparator.comparingDouble(Candidate::addedCost));
        List<Offer> offers = new ArrayList<>();
        for (Candidate each : candidates.subList(0, Math.min(candidates.size(), most + 2))) {
            offers.add(worked(each, visit, mix, costs, stepMinutes));
        }
        offers.removeIf(each -> each.slotMinutes() <= 0);
        offers.sort(Comparator.comparingDouble(Offer::addedCost));
        return List.copyOf(offers.subList(0, Math.min(offers.size(), most)));
    }

    private record Candidate(Open open, String place, double addedCost) {}

    private static List<Candidate> candidates(Open open, Place visit, Costs costs) {
        List<Place> places = open.places().list().places();
        double[] starts = new double[places.size()];
        for (int i = 0; i < starts.length; i++) {
            LocalTime booked = places.get(i).booked();
            starts[i] = booked == null ? open.places().list().session().fromMinutes() : Clock24.minutes(booked);
        }
        DayList list = open.places().list();
        Timetable table = new Timetable(list, places, starts, costs, COARSE_MINUTES, COARSE_NODES);
        table.run();
        table.lookBack();
        List<Candidate> found = new ArrayList<>();
        for (int i = 0; i < starts.length; i++) {
            if (open.places().free().contains(places.get(i).name()) && isWithin(open, places.get(i))) {
                found.add(new Candidate(open, places.get(i).name(), table.addedCost(i, visit)));
            }
        }
        return found;
    }

    private static boolean isWithin(Open open, Place place) {
        LocalTime start = place.booked();
        return start != null && !start.isBefore(open.earliest()) && !start.isAfter(open.latest());
    }

    private static Offer worked(Candidate candidate, Place visit, Mix mix, Costs costs, double stepMinutes) {
        Placeholders then = placed(candidate.open(), candidate.place(), visit, mix, costs, stepMinutes);
        DayList before = candidate.open().places().list();
        Change change = Change.between(before, then.list(), costs);
        Place own = then.list().places().get(then.list().indexOf(visit.name()));
        Set<String> free = candidate.open().places().free();
        double added = change.effects().stream()
                .filter(each -> !free.contains(each.name()))
                .mapToDouble(Change.Effect::addedWaitMinutes)
                .sum();
        return new Offer(
                candidate.open().name(),
                own.booked() == null ? LocalTime.MIN : own.booked(),
                own.slotMinutes(),
                change.after().visit(visit.name()).waitMinutes(),
                added,
                change.then().pastEnd(),
                change.then().total() - change.before().total(),
                then);
    }

    /** The referral in a free place, the other placeholders cut again, all starts but the confirmed ones set again. */
    private static Placeholders placed(Open open, String at, Place visit, Mix mix, Costs costs, double stepMinutes) {
        DayList list = open.places().list();
        List<Place> left = new ArrayList<>(list.places().stream()
                .filter(each -> open.places().free().contains(each.name())
                        && !each.name().equals(at))
                .toList());
        List<Place> recut = new ArrayList<>(Placeholders.recut(left, mix));
        List<Place> places = new ArrayList<>();
        for (Place each : list.places()) {
            if (each.name().equals(at)) {
                places.add(visit.movedTo(
                        each.booked() == null ? list.session().from() : each.booked(), each.slotMinutes()));
            } else {
                places.add(open.places().free().contains(each.name()) ? recut.remove(0) : each);
            }
        }
        Set<String> free = new HashSet<>(open.places().free());
        free.remove(at);
        DayList tried = list.withPlaces(places);
        Search search = StartTimes.settled(
                tried, costs, stepMinutes, confirmed(tried, free, visit), tried.indexOf(visit.name()), open);
        return new Placeholders(search.list(tried), free);
    }

    private static Set<String> confirmed(DayList list, Set<String> free, Place visit) {
        Set<String> confirmed = new HashSet<>();
        for (Place each : list.places()) {
            if (!free.contains(each.name()) && !each.name().equals(visit.name())) {
                confirmed.add(each.name());
            }
        }
        return confirmed;
    }
}
