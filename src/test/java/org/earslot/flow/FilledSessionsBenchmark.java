package org.earslot.flow;

import com.github.benmanes.caffeine.cache.Caffeine;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.IntStream;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.HowMany;
import org.earslot.flow.plan.OpenList;
import org.earslot.flow.plan.Rollout;
import org.earslot.flow.run.Projection;
import org.earslot.invented.DayRun;

/**
 * How the sessions of invented clinics end that are filled by the offers: patients ask one after another and take the
 * first offer that keeps to the accepted share of late ends, in as many sessions as a practitioner has in two weeks. Beside
 * what the list's own account expects stands the truth, each list run on {@value #DRAWN} days drawn anew.
 *
 * <p>One line for each accepted share, weights and demand: patients seen, patients a session (least, most), share of
 * sessions that end late (goal: 15 to 22 in 100 where 20 are accepted, 8 to 12 where 10 are), overtime, idle minutes and
 * mean wait. With one weight raised alone what it weighs is to fall or stay.
 *
 * <p>Arguments: first seed, clinics, sessions of each, and any of {@code share}, {@code weights}, {@code spare}.
 */
public final class FilledSessionsBenchmark {

    static {
        // As in the program.
        DistributionTables.cacheWith(
                Caffeine.newBuilder().maximumSize(4_000).<DistributionTables.Key, DistributionTable>build()::get);
    }

    private static final double STEP = 5;
    private static final int DRAWN = 100;
    private static final double A_DAY = Double.parseDouble(System.getProperty("day", "0.3"));
    private static final Costs STARTING = new Costs(1, 0.2, 1.5);

    private record Way(String name, double accepted, double fills, Costs costs, double demand) {}

    /** What came of the lists of one way. */
    private static final class Sums {

        private int asked;
        private int patients;
        private int sessions;
        private double expectedLate;
        private double late;
        private double expectedOvertime;
        private double overtime;
        private double idle;
        private double expectedWait;
        private double wait;
        private double attended;
        private double expectedAttended;
        private final List<Integer> counts = new ArrayList<>();

        synchronized void add(LearntClinic clinic, List<DayList> lists, int asking) {
            asked += asking;
            for (DayList list : lists) {
                counts.add(list.places().size());
                sessions++;
                patients += list.places().size();
                if (list.places().isEmpty()) {
                    continue;
                }
                Projection expected = Projection.of(list);
                expectedLate += expected.pastEnd();
                expectedOvertime += expected.overtimeMinutes();
                expectedWait += expected.totalWaitMinutes();
                expectedAttended += expected.visits().stream()
                        .mapToDouble(Projection.Visit::attends)
                        .sum();
                for (int day = 0; day < DRAWN; day++) {
                    DayRun run = clinic.drawn(list, day);
                    late += run.overtime() > 0 ? 1.0 / DRAWN : 0;
                    overtime += run.overtime() / DRAWN;
                    idle += run.idle() / DRAWN;
                    wait += run.waits().stream().mapToDouble(each -> each).sum() / DRAWN;
                    attended += run.waits().size() / (double) DRAWN;
                }
            }
        }

        @Override
        public String toString() {
            Collections.sort(counts);
            return String.format(
                    Locale.ROOT,
                    "%4d of %4d asked, %2d to %2d a session (sd %.2f); late %4.1f expected, %4.1f true; overtime %5.2f, %5.2f; idle %5.2f; wait %5.2f, %5.2f",
                    patients,
                    asked,
                    counts.get(0),
                    counts.get(counts.size() - 1),
                    sd(),
                    100 * expectedLate / sessions,
                    100 * late / sessions,
                    expectedOvertime / sessions,
                    overtime / sessions,
                    idle / sessions,
                    expectedWait / expectedAttended,
                    wait / attended);
        }

        private double sd() {
            double mean = counts.stream().mapToInt(each -> each).average().orElseThrow();
            return Math.sqrt(counts.stream()
                    .mapToDouble(each -> (each - mean) * (each - mean))
                    .average()
                    .orElseThrow());
        }
    }

    private FilledSessionsBenchmark() {}

    public static void main(String[] arguments) {
        long first = Long.parseLong(arguments[0]);
        int clinics = Integer.parseInt(arguments[1]);
        int sessions = Integer.parseInt(arguments[2]);
        List<String> what = List.of(arguments).subList(3, arguments.length);
        List<LearntClinic> all = IntStream.range(0, clinics)
                .parallel()
                .mapToObj(i -> LearntClinic.of(first + i, 1, sessions * 3 / 2))
                .toList();
        ways(what).forEach(way -> {
            Sums sums = new Sums();
            all.parallelStream().forEach(clinic -> filled(clinic, sessions, way, sums));
            System.out.printf("%-24s %s%n", way.name(), sums);
            System.out.flush();
        });
    }

    private static List<Way> ways(List<String> what) {
        List<Way> ways = new ArrayList<>();
        for (String each : what) {
            String[] parts = each.split("/");
            ways.add(new Way(
                    each,
                    Double.parseDouble(parts[0]),
                    Double.parseDouble(parts[1]),
                    new Costs(Double.parseDouble(parts[2]), Double.parseDouble(parts[3]), Double.parseDouble(parts[4])),
                    Double.parseDouble(parts[5])));
        }
        return ways;
    }

    private static void filled(LearntClinic clinic, int sessions, Way way, Sums sums) {
        List<DayList> lists = new ArrayList<>();
        clinic.judged().stream()
                .limit(sessions)
                .forEach(session -> lists.add(clinic.list(session).withPlaces(List.of())));
        List<Place> asked = new ArrayList<>();
        clinic.judged().forEach(session -> asked.addAll(clinic.list(session).places()));
        Collections.shuffle(asked, new Random(clinic.judged().get(0).date().toEpochDay()));
        int capacity = clinic.judged().stream()
                .limit(sessions)
                .mapToInt(session -> session.visits().size())
                .sum();
        List<Place> asking = asked.subList(0, Math.min(asked.size(), (int) Math.round(capacity * way.demand())));
        List<OpenList> open = new ArrayList<>();
        lists.forEach(list -> open.add(open(list, clinic, way)));
        for (Place visit : asking) {
            List<Rollout.Open> wanted = new ArrayList<>();
            for (int i = 0; i < lists.size(); i++) {
                Rollout.Open plain = Rollout.Open.allDay("" + i, open.get(i), visit);
                wanted.add(new Rollout.Open(
                        plain.name(),
                        plain.list(),
                        plain.visit(),
                        plain.leastMinutes(),
                        plain.mostMinutes(),
                        plain.earliest(),
                        plain.latest(),
                        A_DAY * way.costs().waitMinute() * (1 + i / 5 * 7 + i % 5),
                        new Rollout.Limits(way.accepted(), way.fills())));
            }
            Rollout.offers(wanted, 1).stream()
                    .filter(Rollout.Offer::within)
                    .findFirst()
                    .ifPresent(offer -> {
                        int in = Integer.parseInt(offer.open());
                        List<Place> places = new ArrayList<>(lists.get(in).places());
                        places.add(visit.movedTo(offer.start(), offer.slotMinutes()));
                        places.sort(Comparator.comparing(Place::booked));
                        lists.set(in, lists.get(in).withPlaces(places));
                        open.set(in, open(lists.get(in), clinic, way));
                    });
        }
        sums.add(clinic, lists, asking.size());
    }

    /** As the search for a slot makes it. */
    private static OpenList open(DayList booked, LearntClinic clinic, Way way) {
        int more = Math.max(1, HowMany.more(booked, clinic.mix(), Math.min(0.999, way.accepted())));
        return OpenList.of(booked, clinic.mix(), more, way.costs(), STEP);
    }
}
