package org.earslot.flow;

import com.github.benmanes.caffeine.cache.Caffeine;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
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
 * <p>Arguments: first seed, clinics, sessions of each, and any of {@code share}, {@code weights}, {@code spare}, or a way of
 * one's own: accepted share, chance that lists fill, weights of wait, idle and overtime, and demand, parted by slashes.
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
    private static final Costs STARTING = new Costs(1, 1, 1.5);

    /** Patients asking, by those whom the sessions' fixed slots would hold. */
    private static final double FULL = 1.2;

    private static final double SPARE = 0.6;

    /** As the search for a slot takes it. */
    private static final double FILLS = 0.25;

    /**
     * How sessions are filled.
     *
     * @param demand patients asking, by those whom the sessions' fixed slots would hold
     */
    record Way(String name, String goal, double accepted, double fills, Costs costs, double demand) {

        /** As the search for a slot does it. */
        static Way asOffered(double accepted, Costs costs, double demand) {
            return new Way("", "", accepted, FILLS, costs, demand);
        }
    }

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
        what.stream().flatMap(each -> ways(each).stream()).forEach(way -> {
            Sums sums = new Sums();
            all.parallelStream()
                    .forEach(clinic -> sums.add(
                            clinic,
                            filled(clinic, sessions, way),
                            asking(clinic, sessions, way).size()));
            System.out.printf("%-20s %-20s %s%n", way.name(), way.goal(), sums);
            System.out.flush();
        });
    }

    private static List<Way> ways(String what) {
        return switch (what) {
            case "share" ->
                List.of(
                        new Way("20 in 100 accepted", "late end 15 to 22", 0.2, FILLS, STARTING, FULL),
                        new Way("10 in 100 accepted", "late end 8 to 12", 0.1, FILLS, STARTING, FULL));
            case "weights" ->
                List.of(
                        new Way("weights 1 1 1.5", "", 0.2, FILLS, STARTING, FULL),
                        new Way("wait 3", "wait falls", 0.2, FILLS, new Costs(3, 1, 1.5), FULL),
                        new Way("idle 3", "idle falls", 0.2, FILLS, new Costs(1, 3, 1.5), FULL),
                        new Way("overtime 4.5", "overtime falls", 0.2, FILLS, new Costs(1, 1, 4.5), FULL));
            case "spare" ->
                List.of(
                        new Way("60 % asked for", "", 0.2, 1, STARTING, SPARE),
                        new Way("the same, levelled", "wait, overtime fall", 0.2, FILLS, STARTING, SPARE));
            default -> List.of(read(what));
        };
    }

    private static Way read(String way) {
        double[] parts =
                Stream.of(way.split("/")).mapToDouble(Double::parseDouble).toArray();
        return new Way(way, "", parts[0], parts[1], new Costs(parts[2], parts[3], parts[4]), parts[5]);
    }

    /** Those who ask, one after another. */
    private static List<Place> asking(LearntClinic clinic, int sessions, Way way) {
        List<Place> asked = new ArrayList<>();
        clinic.judged().forEach(session -> asked.addAll(clinic.list(session).places()));
        Collections.shuffle(asked, new Random(clinic.judged().get(0).date().toEpochDay()));
        int capacity = clinic.judged().stream()
                .limit(sessions)
                .mapToInt(session -> session.visits().size())
                .sum();
        return asked.subList(0, Math.min(asked.size(), (int) Math.round(capacity * way.demand())));
    }

    /** The clinic's first sessions after those learnt from, filled. */
    static List<DayList> filled(LearntClinic clinic, int sessions, Way way) {
        List<DayList> lists = new ArrayList<>();
        clinic.judged().stream()
                .limit(sessions)
                .forEach(session -> lists.add(clinic.list(session).withPlaces(List.of())));
        List<OpenList> open = new ArrayList<>();
        lists.forEach(list -> open.add(open(list, clinic, way)));
        for (Place visit : asking(clinic, sessions, way)) {
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
        return lists;
    }

    /** As the search for a slot makes it. */
    private static OpenList open(DayList booked, LearntClinic clinic, Way way) {
        int more = Math.max(1, HowMany.more(booked, clinic.mix(), Math.min(0.999, way.accepted())));
        return OpenList.of(booked, clinic.mix(), more, way.costs(), STEP);
    }
}
