package org.earslot.flow;

import com.github.benmanes.caffeine.cache.Caffeine;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.Rollout;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.run.Projection;
import org.earslot.invented.DayRun;
import org.earslot.invented.InventedSession;

/**
 * What setting starts together and booking by offers is worth, in invented clinics: the same patients with the same true
 * times under every policy, the tool's own estimates after 2,500 visits, fixed slots as booked against starts set together
 * (order given, order free) and against bookings one by one in random order. Each policy is run at several weights of
 * overtime; its wait is read where its overtime equals that of fixed slots. Beside what happened stands what the tool's
 * own projection expected of the same lists.
 *
 * <p>One by one, the visits of {@value #TOGETHER} sessions of a practitioner ask in random order and each may go to any of
 * these; a session takes as many visits as it had.
 *
 * <p>Arguments: first seed, clinics, sessions judged of each practitioner, policies (g: order given, f: order free, o:
 * offers).
 */
public final class WorthBenchmark {

    static {
        // As in the program.
        DistributionTables.cacheWith(
                Caffeine.newBuilder().maximumSize(4_000).<DistributionTables.Key, DistributionTable>build()::get);
    }

    private static final double STEP = 5;
    private static final double[] WEIGHTS = {2, 3, 4.5, 6.5, 9.5};

    /** Each session is run so many times more, with its times drawn anew. */
    private static final int DRAWN = 100;

    private static final int TOGETHER = Integer.getInteger("together", 4);

    private enum Policy {
        /** All slots of a session alike. */
        FIXED,
        /** As booked: 20 minutes, 30 for both ears. */
        BY_EARS,
        GIVEN,
        FREE,
        OFFERS
    }

    /** Sums over days. */
    private static final class Sums {
        private double wait;
        private double overtime;
        private double drawnWait;
        private double drawnOvertime;
        private int drawnPatients;
        private double expectedWait;
        private double expectedOvertime;
        private double attending;
        private int patients;
        private int days;

        void add(DayRun run, List<DayRun> drawn, Projection expected) {
            for (DayRun each : drawn) {
                drawnWait += each.waits().stream().mapToDouble(wait -> wait).sum();
                drawnPatients += each.waits().size();
                drawnOvertime += each.overtime() / DRAWN;
            }
            wait += run.waits().stream().mapToDouble(each -> each).sum();
            patients += run.waits().size();
            overtime += run.overtime();
            expectedWait += expected.totalWaitMinutes();
            attending += expected.visits().stream()
                    .mapToDouble(Projection.Visit::attends)
                    .sum();
            expectedOvertime += expected.overtimeMinutes();
            days++;
        }

        void add(Sums other) {
            wait += other.wait;
            drawnWait += other.drawnWait;
            drawnPatients += other.drawnPatients;
            drawnOvertime += other.drawnOvertime;
            overtime += other.overtime;
            expectedWait += other.expectedWait;
            expectedOvertime += other.expectedOvertime;
            attending += other.attending;
            patients += other.patients;
            days += other.days;
        }

        double[] happened() {
            return new double[] {wait / patients, overtime / days};
        }

        double[] drawn() {
            return new double[] {drawnWait / drawnPatients, drawnOvertime / days};
        }

        double[] expected() {
            return new double[] {expectedWait / attending, expectedOvertime / days};
        }
    }

    private WorthBenchmark() {}

    public static void main(String[] arguments) {
        long first = Long.parseLong(arguments[0]);
        int clinics = Integer.parseInt(arguments[1]);
        int sessions = Integer.parseInt(arguments[2]);
        String policies = arguments.length > 3 ? arguments[3] : "gfo";
        Map<Policy, Sums[]> all = new EnumMap<>(Policy.class);
        int[] practitioners = new int[1];
        IntStream.range(0, clinics).parallel().forEach(i -> {
            int people = 2 + i % 3;
            Map<Policy, Sums[]> one = judged(LearntClinic.of(first + i, people, sessions), policies);
            synchronized (all) {
                one.forEach((policy, sums) -> {
                    Sums[] whole = all.computeIfAbsent(policy, any -> fresh());
                    for (int w = 0; w < sums.length; w++) {
                        whole[w].add(sums[w]);
                    }
                });
                practitioners[0] += people;
                print("clinic " + (first + i), one);
                print(practitioners[0] + " practitioners", all);
            }
        });
    }

    private static Sums[] fresh() {
        Sums[] sums = new Sums[WEIGHTS.length];
        Arrays.setAll(sums, i -> new Sums());
        return sums;
    }

    private static Map<Policy, Sums[]> judged(LearntClinic clinic, String policies) {
        Map<Policy, Sums[]> found = new EnumMap<>(Policy.class);
        for (Policy policy : Policy.values()) {
            found.put(policy, fresh());
        }
        for (int w = 0; w < WEIGHTS.length; w++) {
            Costs costs = new Costs(1, 0, WEIGHTS[w]);
            for (InventedSession session : clinic.judged()) {
                DayList asBooked = clinic.list(session);
                add(clinic, found.get(Policy.BY_EARS)[w], asBooked);
                add(clinic, found.get(Policy.FIXED)[w], alike(asBooked));
                StartTimes.Rules rules = StartTimes.Rules.everyMinutes(STEP);
                if (policies.contains("g")) {
                    DayList given = StartTimes.of(asBooked, costs, rules).list();
                    add(clinic, found.get(Policy.GIVEN)[w], given);
                }
                if (policies.contains("f")) {
                    DayList free = StartTimes.of(asBooked, costs, rules.withOrderFree())
                            .list();
                    add(clinic, found.get(Policy.FREE)[w], free);
                }
            }
            if (policies.contains("o")) {
                for (List<InventedSession> together : together(clinic)) {
                    List<DayList> lists = oneByOne(clinic, together, costs);
                    for (int i = 0; i < lists.size(); i++) {
                        add(clinic, found.get(Policy.OFFERS)[w], lists.get(i));
                    }
                }
            }
        }
        found.values().removeIf(sums -> sums[0].days == 0);
        return found;
    }

    /** The same visits in slots of one length that fill the session, met on the grid from below. */
    private static DayList alike(DayList list) {
        List<Place> places = new ArrayList<>();
        int n = list.places().size();
        double from = list.session().fromMinutes();
        double slot = (list.session().toMinutes() - from) / n;
        for (int i = 0; i < n; i++) {
            double start = from + Math.floor(i * slot / STEP + 1e-9) * STEP;
            places.add(list.places().get(i).movedTo(Clock24.time(start), slot));
        }
        return list.withPlaces(places);
    }

    private static void print(String what, Map<Policy, Sums[]> found) {
        Sums fixed = found.get(Policy.FIXED)[0];
        System.out.printf(Locale.ROOT, "%s, %d days, %d patients%n", what, fixed.days, fixed.patients);
        found.forEach((policy, sums) -> System.out.println(line(policy, sums, fixed)));
        System.out.flush();
    }

    private static String line(Policy policy, Sums[] sums, Sums fixed) {
        StringBuilder line = new StringBuilder(String.format(Locale.ROOT, "  %-7s happened", policy));
        line.append(points(sums, Sums::happened, fixed)).append("   drawn anew");
        line.append(points(sums, Sums::drawn, fixed)).append("   expected");
        return line.append(points(sums, Sums::expected, fixed)).toString();
    }

    private static String points(Sums[] sums, Function<Sums, double[]> of, Sums fixed) {
        StringBuilder text = new StringBuilder();
        for (Sums each : sums) {
            text.append(String.format(Locale.ROOT, " (%.2f, %.2f)", of.apply(each)[0], of.apply(each)[1]));
        }
        double at = atOvertime(Arrays.stream(sums).map(of).toList(), of.apply(fixed)[1]);
        return text + String.format(Locale.ROOT, " %+.1f %%", 100 * (at / of.apply(fixed)[0] - 1));
    }

    /** The wait where the overtime is this, read straight between the weights' points; NaN outside of them. */
    private static double atOvertime(List<double[]> points, double overtime) {
        List<double[]> sorted = new ArrayList<>(points);
        sorted.sort((a, b) -> Double.compare(a[1], b[1]));
        for (int i = 1; i < sorted.size(); i++) {
            double[] low = sorted.get(i - 1);
            double[] high = sorted.get(i);
            if (overtime >= low[1] && overtime <= high[1]) {
                double part = high[1] == low[1] ? 0 : (overtime - low[1]) / (high[1] - low[1]);
                return low[0] + part * (high[0] - low[0]);
            }
        }
        return Double.NaN;
    }

    /** Each practitioner's sessions, a few at a time. */
    private static List<List<InventedSession>> together(LearntClinic clinic) {
        Map<Integer, List<InventedSession>> each = new TreeMap<>();
        clinic.judged()
                .forEach(session -> each.computeIfAbsent(session.practitioner(), any -> new ArrayList<>())
                        .add(session));
        List<List<InventedSession>> groups = new ArrayList<>();
        for (List<InventedSession> sessions : each.values()) {
            for (int i = 0; i < sessions.size(); i += TOGETHER) {
                groups.add(sessions.subList(i, Math.min(sessions.size(), i + TOGETHER)));
            }
        }
        return groups;
    }

    private static List<DayList> oneByOne(LearntClinic clinic, List<InventedSession> sessions, Costs costs) {
        List<DayList> lists = new ArrayList<>();
        List<Integer> counts = new ArrayList<>();
        List<Place> asked = new ArrayList<>();
        for (InventedSession session : sessions) {
            DayList full = clinic.list(session);
            lists.add(full.withPlaces(List.of()));
            counts.add(full.places().size());
            asked.addAll(full.places());
        }
        Collections.shuffle(asked, new Random(sessions.get(0).date().toEpochDay()));
        return Rollout.booked(lists, counts, asked, clinic.mix(), costs, STEP);
    }

    private static void add(LearntClinic clinic, Sums to, DayList list) {
        List<DayRun> drawn = IntStream.range(0, DRAWN)
                .mapToObj(day -> clinic.drawn(list, day))
                .toList();
        to.add(clinic.happened(list), drawn, Projection.of(list));
    }
}
