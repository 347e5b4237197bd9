package org.earslot.flow;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * A future list with its free places held by placeholders, so that it can be priced as if full. A placeholder is not an
 * appointment: it has no patient, and gives way to whoever is booked.
 *
 * @param list booked visits and placeholders, in order of start
 * @param free names of the placeholders
 */
public record Placeholders(DayList list, Set<String> free) {

    private static final String NAME = "place ";

    public Placeholders {
        free = Set.copyOf(free);
    }

    /**
     * The session as a template: the mix cut into {@code count} classes by spread, smallest first, starts set together.
     *
     * @param empty a plan with no places, for its session, early minutes and common factor
     */
    public static Placeholders template(DayList empty, Mix mix, int count, Costs costs, double stepMinutes) {
        List<Place> places = new ArrayList<>();
        List<Mix.Kind> classes = mix.classes(count);
        for (int i = 0; i < count; i++) {
            places.add(placeholder(i + 1, empty.session().from(), classes.get(i)));
        }
        DayList list = empty.withPlaces(places);
        DayList set = StartTimes.of(spaced(list, stepMinutes), costs, StartTimes.Rules.everyMinutes(stepMinutes))
                .list();
        Set<String> free = new HashSet<>();
        places.forEach(each -> free.add(each.name()));
        return new Placeholders(set, free);
    }

    private static DayList spaced(DayList list, double stepMinutes) {
        List<Place> places = new ArrayList<>();
        double from = list.session().fromMinutes();
        for (int i = 0; i < list.places().size(); i++) {
            places.add(list.places().get(i).movedTo(Clock24.time(from + i * stepMinutes), stepMinutes));
        }
        return list.withPlaces(places);
    }

    private static Place placeholder(int number, LocalTime start, Mix.Kind kind) {
        return Place.booked(NAME + number, start, 0, kind.inRoom()).withTurnaround(kind.turnaround());
    }

    /**
     * The template with these booked visits in it. Each takes the free place nearest to its start; a placeholder on top
     * of a booked slot gives way too. Those left are cut again from the mix, smallest spread first.
     *
     * @param booked with booked start and slot; names not beginning with "place "
     */
    public Placeholders with(List<Place> booked, Mix mix) {
        List<Place> left = new ArrayList<>(list.places().stream()
                .filter(each -> free.contains(each.name()))
                .toList());
        for (Place visit : booked) {
            left.stream()
                    .min(Comparator.comparingDouble(each -> distance(each, visit)))
                    .ifPresent(left::remove);
        }
        left.removeIf(each -> booked.stream().anyMatch(visit -> covers(visit, each)));
        List<Place> all = new ArrayList<>(list.places().stream()
                .filter(each -> !free.contains(each.name()))
                .toList());
        all.addAll(booked);
        Set<String> names = new HashSet<>();
        left.forEach(each -> names.add(each.name()));
        all.addAll(recut(left, mix));
        all.sort(Comparator.comparing(Place::booked));
        return new Placeholders(list.withPlaces(all), names);
    }

    static List<Place> recut(List<Place> places, Mix mix) {
        if (places.isEmpty()) {
            return List.of();
        }
        List<Mix.Kind> classes = mix.classes(places.size());
        List<Place> cut = new ArrayList<>();
        for (int i = 0; i < places.size(); i++) {
            Place place = places.get(i);
            cut.add(Place.booked(
                            place.name(),
                            place.booked(),
                            place.slotMinutes(),
                            classes.get(i).inRoom())
                    .withTurnaround(classes.get(i).turnaround())
                    .withAttendance(place.didNotAttend(), place.arrivals())
                    .inRoom(place.room()));
        }
        return cut;
    }

    private static double start(Place place) {
        return place.booked() == null ? 0 : Clock24.minutes(place.booked());
    }

    private static double distance(Place place, Place visit) {
        return Math.abs(start(place) - start(visit));
    }

    private static boolean covers(Place visit, Place place) {
        return start(place) >= start(visit) && start(place) < start(visit) + visit.slotMinutes();
    }
}
