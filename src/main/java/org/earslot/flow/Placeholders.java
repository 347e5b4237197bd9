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
        Placeholders spaced = around(empty.withPlaces(List.of()), mix, count, stepMinutes);
        DayList set = StartTimes.of(spaced.list(), costs, StartTimes.Rules.everyMinutes(stepMinutes))
                .list();
        return new Placeholders(set, spaced.free());
    }

    /**
     * The booked visits with placeholders in what they leave free. The stretches between them share the placeholders by
     * their lengths; in each they lie evenly spaced. The mix is cut into as many classes as there are placeholders,
     * smallest spread first in order of time.
     *
     * @param booked a plan: visits with booked start and slot, in order of start, no name beginning with "place "
     * @param most placeholders wanted; there are fewer where the free stretches have fewer starts on the grid
     */
    public static Placeholders around(DayList booked, Mix mix, int most, double stepMinutes) {
        List<double[]> stretches = stretches(booked, stepMinutes);
        int[] counts = shared(stretches, most, stepMinutes);
        List<Double> starts = new ArrayList<>();
        for (int s = 0; s < counts.length; s++) {
            double[] stretch = stretches.get(s);
            for (int i = 0; i < counts[s]; i++) {
                double part = (stretch[1] - stretch[0]) * i / counts[s];
                starts.add(stretch[0] + Math.floor(part / stepMinutes + 1e-9) * stepMinutes);
            }
        }
        List<Mix.Kind> classes = starts.isEmpty() ? List.of() : mix.classes(starts.size());
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

    /** Each further placeholder goes where the gaps are then widest. */
    private static int[] shared(List<double[]> stretches, int most, double stepMinutes) {
        int[] counts = new int[stretches.size()];
        for (int placed = 0; placed < most; placed++) {
            int widest = -1;
            double gap = stepMinutes - 1e-9;
            for (int s = 0; s < counts.length; s++) {
                double then = (stretches.get(s)[1] - stretches.get(s)[0]) / (counts[s] + 1);
                if (then > gap) {
                    gap = then;
                    widest = s;
                }
            }
            if (widest < 0) {
                return counts;
            }
            counts[widest]++;
        }
        return counts;
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
