package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.IntUnaryOperator;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;

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
        Placeholders spaced = around(empty.withPlaces(List.of()), mix, count, stepMinutes);
        DayList set = StartTimes.of(spaced.list(), costs, StartTimes.Rules.everyMinutes(stepMinutes))
                .list();
        return new Placeholders(set, spaced.free());
    }

    /**
     * The booked visits with placeholders in what they leave free. The mix is cut into as many classes as there are
     * placeholders, smallest spread first in order of time; the free time is shared by the classes' mean minutes.
     *
     * @param booked a plan: visits with booked start and slot, in order of start, no name beginning with "place "
     * @param most placeholders wanted; there are fewer where the free stretches have fewer starts on the grid
     */
    public static Placeholders around(DayList booked, Mix mix, int most, double stepMinutes) {
        List<double[]> stretches = stretches(booked, stepMinutes);
        int count = Math.min(most, room(stretches, stepMinutes));
        List<Mix.Kind> classes = count == 0 ? List.of() : mix.classes(count);
        List<Double> starts = spaced(wide(stretches, classes, stepMinutes), classes, stepMinutes);
        List<Place> all = new ArrayList<>(booked.places());
        Set<String> free = new HashSet<>();
        for (int i = 0; i < starts.size(); i++) {
            Place place = placeholder(i + 1, starts.get(i), classes.get(i), mix);
            all.add(place);
            free.add(place.name());
        }
        all.sort(Comparator.comparing(Placeholders::start));
        return new Placeholders(booked.withPlaces(all), free);
    }

    /**
     * A visit in the place of the placeholder that starts then, or of the next or else the last one; the others stay where
     * they are, and the mix is cut again for them.
     *
     * @param visit with its booked start and slot
     */
    Placeholders with(Place visit, LocalTime instead, Mix mix) {
        int before = (int) list.places().stream()
                .filter(place -> free.contains(place.name()) && start(place).isBefore(instead))
                .count();
        int hole = Math.min(before, free.size() - 1);
        List<Place> all = new ArrayList<>();
        Set<String> left = new HashSet<>();
        List<Place> cut = cut(mix, number -> number < hole ? number : number - 1);
        int number = 0;
        for (Place place : list.places()) {
            if (!free.contains(place.name())) {
                all.add(place);
            } else if (number == hole) {
                all.add(visit);
                number++;
            } else {
                all.add(cut.get(number));
                left.add(cut.get(number++).name());
            }
        }
        all.sort(Comparator.comparing(Placeholders::start));
        return new Placeholders(list.withPlaces(all), left);
    }

    /**
     * The list with the mix cut into one class fewer than there are placeholders.
     *
     * @param passed 0: the first placeholders have a class each, as before a place left open; 1: the last ones have, as
     *     after one
     */
    DayList cutFor(Mix mix, int passed) {
        List<Place> cut = cut(mix, number -> number - passed);
        List<Place> all = new ArrayList<>();
        int number = 0;
        for (Place place : list.places()) {
            all.add(free.contains(place.name()) ? cut.get(number++) : place);
        }
        return list.withPlaces(all);
    }

    /** The placeholders in order of time, of the class that is said for each of them, or the nearest there is. */
    private List<Place> cut(Mix mix, IntUnaryOperator classOf) {
        int classes = Math.max(1, free.size() - 1);
        List<Mix.Kind> kinds = mix.classes(classes);
        List<Place> cut = new ArrayList<>();
        for (Place place : list.places()) {
            if (free.contains(place.name())) {
                int wanted = classOf.applyAsInt(cut.size());
                Mix.Kind kind = kinds.get(Math.max(0, Math.min(classes - 1, wanted)));
                cut.add(placeholder(cut.size() + 1, Clock24.minutes(start(place)), kind, mix));
            }
        }
        return cut;
    }

    private static Place placeholder(int number, double start, Mix.Kind kind, Mix mix) {
        return Place.booked(NAME + number, Clock24.time(start), 0, kind.inRoom())
                .withTurnaround(kind.turnaround())
                .withAttendance(mix.didNotAttend(), mix.arrivals());
    }

    /** What is free between breaks and booked slots, each from its first start on the grid; those without are left out. */
    static List<double[]> stretches(DayList booked, double stepMinutes) {
        Session session = booked.session();
        List<double[]> taken = new ArrayList<>();
        session.breaks()
                .forEach(each -> taken.add(new double[] {Clock24.minutes(each.from()), Clock24.minutes(each.to())}));
        for (Place place : booked.places()) {
            if (place.booked() != null) {
                double start = Clock24.minutes(place.booked());
                taken.add(new double[] {start, start + Math.max(stepMinutes, place.slotMinutes())});
            }
        }
        taken.add(new double[] {session.toMinutes(), session.toMinutes()});
        taken.sort(Comparator.comparingDouble(each -> each[0]));
        List<double[]> free = new ArrayList<>();
        double at = session.fromMinutes();
        for (double[] each : taken) {
            double first =
                    session.fromMinutes() + Math.ceil((at - session.fromMinutes()) / stepMinutes - 1e-9) * stepMinutes;
            double last = Math.min(each[0], session.toMinutes());
            if (first + stepMinutes <= last + 1e-9) {
                free.add(new double[] {first, last});
            }
            at = Math.max(at, each[1]);
        }
        return free;
    }

    /** How many starts on the grid the free stretches have. */
    private static int room(List<double[]> stretches, double stepMinutes) {
        int room = 0;
        for (double[] stretch : stretches) {
            room += (int) Math.floor((stretch[1] - stretch[0]) / stepMinutes + 1e-9);
        }
        return room;
    }

    /** The longest stretches, as many as there are classes, without those too short for any, where the others suffice. */
    private static List<double[]> wide(List<double[]> stretches, List<Mix.Kind> classes, double stepMinutes) {
        double enough = classes.isEmpty() ? 0 : 0.75 * classes.get(0).mean();
        List<double[]> wide = stretches.stream()
                .sorted(Comparator.comparingDouble(each -> each[0] - each[1]))
                .limit(classes.size())
                .filter(each -> each[1] - each[0] >= enough)
                .sorted(Comparator.comparingDouble(each -> each[0]))
                .toList();
        return room(wide, stepMinutes) < classes.size() ? stretches : wide;
    }

    /**
     * Starts on the grid: the free time, taken as one, is shared by the mean minutes of the classes; who would have less
     * than half of that before the stretch ends goes to the next one.
     */
    private static List<Double> spaced(List<double[]> stretches, List<Mix.Kind> classes, double stepMinutes) {
        List<Double> grid = new ArrayList<>();
        List<Double> ends = new ArrayList<>();
        for (double[] stretch : stretches) {
            for (double at = stretch[0]; at + stepMinutes <= stretch[1] + 1e-9; at += stepMinutes) {
                grid.add(at);
                ends.add(stretch[1]);
            }
        }
        double work = classes.stream().mapToDouble(Mix.Kind::mean).sum();
        List<Double> starts = new ArrayList<>();
        double before = 0;
        int next = 0;
        for (int k = 0; k < classes.size(); k++) {
            int last = grid.size() - (classes.size() - k);
            int at = work > 0 ? (int) Math.floor(before / work * grid.size() + 1e-9) : 0;
            at = Math.max(next, Math.min(last, at));
            double mean = classes.get(k).mean();
            int tail = at;
            while (tail < last
                    && ends.get(tail) - grid.get(tail) < mean / 2
                    && ends.get(tail).equals(ends.get(at))) {
                tail++;
            }
            at = ends.get(tail).equals(ends.get(at)) ? at : tail;
            starts.add(grid.get(at));
            next = at + 1;
            before += mean;
        }
        return starts;
    }

    /** Those booked, without the placeholders. */
    public DayList booked() {
        return list.withPlaces(list.places().stream()
                .filter(each -> !free.contains(each.name()))
                .toList());
    }

    static LocalTime start(Place place) {
        return place.booked() == null ? LocalTime.MIN : place.booked();
    }
}
