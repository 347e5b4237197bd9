package org.earslot.flow.list;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * One practitioner's list on one day, as planned or as it stands now.
 *
 * @param session its hours
 * @param places in the order of calling; names differ; at most two rooms
 * @param earlyMinutes a patient who is there may be called in this long before the booked start; at least 0
 * @param commonSd s of the factor exp(s z) the visits of one day share, z standard normal: the root of (mean pairwise
 *     posterior covariance of the log-locations + practitioner-day variance); 0 to 1. It is a part of each
 *     {@link Place#inRoom}, not added to it: given z a visit is narrowed so that over all z the same distribution
 *     results. Certain times share nothing.
 * @param now the clock, on a running list; null on a plan. Whoever was not called in is called no earlier.
 */
public record DayList(
        Session session,
        List<Place> places,
        double earlyMinutes,
        double commonSd,
        @Nullable LocalTime now) {

    private static final int MOST_ROOMS = 2;

    public DayList {
        places = List.copyOf(places);
        List<String> problems = problems(places, now);
        if (!problems.isEmpty()) {
            throw new IllegalArgumentException(String.join("; ", problems));
        }
        Bounds.within("early minutes", earlyMinutes, 0, 24 * 60);
        Bounds.within("sd of the day's common factor", commonSd, 0, 1);
    }

    /** A plan: nobody is called in early, the visits share nothing. */
    public static DayList planned(Session session, List<Place> places) {
        return new DayList(session, places, 0, 0, null);
    }

    /** The same session with other places. */
    public DayList withPlaces(List<Place> given) {
        return new DayList(session, given, earlyMinutes, commonSd, now);
    }

    /** The same, with this standard deviation of the day's common factor on the log scale; at least 0. */
    public DayList withCommonSd(double given) {
        return new DayList(session, places, earlyMinutes, given, now);
    }

    /** The same list, running, at this time of the clock. */
    public DayList at(LocalTime given) {
        return new DayList(session, places, earlyMinutes, commonSd, given);
    }

    /** The list with the place of that name replaced. */
    public DayList with(Place place) {
        List<Place> changed = new ArrayList<>(places);
        changed.set(indexOf(place.name()), place);
        return withPlaces(changed);
    }

    /** @throws IllegalArgumentException if no place has that name */
    public int indexOf(String name) {
        for (int i = 0; i < places.size(); i++) {
            if (places.get(i).name().equals(name)) {
                return i;
            }
        }
        throw new IllegalArgumentException("no place has the name given; give one of the list's");
    }

    /**
     * Indices of the places in the order they run. Those called in go first, by the time of it. Then the order of the
     * list, except that who is late does not hold the chair: on a running list the next patient who is present is
     * called before those who are still absent though their booked start has passed.
     */
    public List<Integer> order() {
        List<Integer> called = new ArrayList<>();
        List<Integer> waiting = new ArrayList<>();
        for (int i = 0; i < places.size(); i++) {
            (places.get(i).wasCalledIn() ? called : waiting).add(i);
        }
        called.sort((a, b) -> Objects.requireNonNull(places.get(a).calledIn())
                .compareTo(Objects.requireNonNull(places.get(b).calledIn())));
        int present = 0;
        while (present < waiting.size() && isMissing(places.get(waiting.get(present)))) {
            present++;
        }
        if (present < waiting.size() && isHere(places.get(waiting.get(present)))) {
            waiting.add(0, waiting.remove(present));
        }
        called.addAll(waiting);
        return List.copyOf(called);
    }

    /** Present, and not only from a time still to come on. */
    private boolean isHere(Place place) {
        return place.stage() instanceof Stage.Present here
                && (now == null || !here.arrived().isAfter(now));
    }

    /** Still absent though the booked start has passed, or known to be away. */
    public boolean isMissing(Place place) {
        boolean late = place.isExpected()
                && now != null
                && place.booked() != null
                && place.booked().isBefore(now);
        return late || place.stage() instanceof Stage.Away;
    }

    /** Whether places of this list are in two rooms. */
    public boolean hasTwoRooms() {
        return places.stream().map(Place::room).distinct().count() > 1;
    }

    private static List<String> problems(List<Place> places, @Nullable LocalTime now) {
        List<String> problems = new ArrayList<>();
        Set<String> names = new HashSet<>();
        Set<String> rooms = new HashSet<>();
        for (Place place : places) {
            Place.SecondCall again = place.again();
            if (again != null && !names.contains(again.of())) {
                problems.add("a second call-in has no first one before it in the list; put it after its first");
            }
            if (!names.add(place.name())) {
                problems.add("two places have the same name; give each its own");
            }
            rooms.add(place.room());
            LocalTime calledIn = place.calledIn();
            if (calledIn != null && (now == null || calledIn.isAfter(now))) {
                problems.add("a visit was called in at " + calledIn + " but it is " + (now == null ? "a plan" : now)
                        + "; give the list a later time of the clock");
            }
            if (place.booked() == null && place.isExpected() && again == null) {
                problems.add("a fit-in has no arrival; give the time it arrived, or a booked start");
            }
        }
        if (rooms.size() > MOST_ROOMS) {
            problems.add("the list uses " + rooms.size() + " rooms; give at most " + MOST_ROOMS);
        }
        return problems;
    }
}
