package org.earslot.flow;

import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.LocalDate;
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
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Priors;
import org.earslot.estimate.BookedEstimate;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.Rollout;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.run.Projection;
import org.earslot.invented.AnotherDay;
import org.earslot.invented.DayRun;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedSession;
import org.earslot.invented.InventedTable;
import org.earslot.invented.InventedVisit;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;

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

    private static final int PAST = 2500;
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
            Map<Policy, Sums[]> one = judged(Clinic.of(first + i, people, sessions), policies);
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

    private static Map<Policy, Sums[]> judged(Clinic clinic, String policies) {
        Map<Policy, Sums[]> found = new EnumMap<>(Policy.class);
        for (Policy policy : Policy.values()) {
            found.put(policy, fresh());
        }
        for (int w = 0; w < WEIGHTS.length; w++) {
            Costs costs = new Costs(1, 0, WEIGHTS[w]);
            for (InventedSession session : clinic.judged) {
                DayList asBooked = clinic.list(session);
                clinic.add(found.get(Policy.BY_EARS)[w], session, asBooked);
                clinic.add(found.get(Policy.FIXED)[w], session, alike(asBooked));
                StartTimes.Rules rules = StartTimes.Rules.everyMinutes(STEP);
                if (policies.contains("g")) {
                    DayList given = StartTimes.of(asBooked, costs, rules).list();
                    clinic.add(found.get(Policy.GIVEN)[w], session, given);
                }
                if (policies.contains("f")) {
                    DayList free = StartTimes.of(asBooked, costs, rules.withOrderFree())
                            .list();
                    clinic.add(found.get(Policy.FREE)[w], session, free);
                }
            }
            if (policies.contains("o")) {
                for (List<InventedSession> together : clinic.together()) {
                    List<DayList> lists = clinic.oneByOne(together, costs);
                    for (int i = 0; i < lists.size(); i++) {
                        clinic.add(found.get(Policy.OFFERS)[w], together.get(i), lists.get(i));
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

    /** A clinic after its first 2,500 visits, and what it has learnt. */
    private record Clinic(
            FittedModel model,
            List<InventedSession> judged,
            Mix mix,
            MinutesDistribution turnaround,
            AnotherDay anotherDay) {

        static Clinic of(long seed, int practitioners, int sessions) {
            InventedClinic clinic = InventedClinic.of(seed, practitioners, PAST + 14 * sessions * practitioners);
            List<InventedVisit> past = clinic.timedVisits().subList(0, PAST);
            LocalDate last = past.get(PAST - 1).told().date();
            List<InventedSession> judged = clinic.sessions().stream()
                    .filter(each -> each.date().isAfter(last))
                    .limit((long) sessions * practitioners)
                    .toList();
            FittedModel model = OncePlusParts.with(Priors.earCare()).fit(InventedTable.rows(past));
            MinutesDistribution turnaround = moments(
                    past,
                    0,
                    v -> v.kept().roomReady() == null
                            ? Double.NaN
                            : (double) v.kept().roomReady() - v.kept().finished());
            List<Mix.Kind> kinds = new ArrayList<>();
            for (InventedVisit visit : past.subList(PAST - 160, PAST)) {
                Prediction prediction = model.predict(InventedTable.asked(visit));
                kinds.add(new Mix.Kind(
                        visit.told().method() + " " + visit.told().ears(), promised(prediction), turnaround, 1));
            }
            MinutesDistribution delay = moments(
                    past,
                    60,
                    v -> v.kept().arrived() == null
                            ? Double.NaN
                            : (double) v.kept().arrived() - v.told().bookedStart());
            List<InventedVisit> listed = clinic.visits().stream()
                    .filter(each -> !each.told().date().isAfter(last))
                    .toList();
            double absent = (double) listed.stream()
                            .filter(each -> !each.truth().attends())
                            .count()
                    / listed.size();
            Mix mix = new Mix(kinds, absent, new Arrivals(60, delay));
            return new Clinic(model, judged, mix, turnaround, AnotherDay.of(clinic, past));
        }

        /** As the diary keeps it. */
        private static MinutesDistribution promised(Prediction prediction) {
            MinutesDistribution time = prediction.inRoom();
            return new BookedEstimate(
                            "", 0, time.mean(), time.standardDeviation(), Map.of(), BookedEstimate.quantiles(time), 0)
                    .inRoomMinutes();
        }

        private static MinutesDistribution moments(
                List<InventedVisit> visits, double shift, Function<InventedVisit, Double> of) {
            double[] all = visits.stream()
                    .map(of)
                    .mapToDouble(each -> each + shift)
                    .filter(each -> each > 0)
                    .toArray();
            double mean = Arrays.stream(all).average().orElseThrow();
            double variance = Arrays.stream(all)
                    .map(each -> (each - mean) * (each - mean))
                    .average()
                    .orElseThrow();
            return LogNormalMinutes.ofMoments(mean, Math.sqrt(variance));
        }

        private DayList list(InventedSession session) {
            Session hours = Session.between(Clock24.time(session.start()), Clock24.time(session.end()));
            List<Place> all = new ArrayList<>();
            double shared = 0;
            for (InventedVisit visit : session.visits()) {
                Prediction prediction = model.predict(InventedTable.asked(visit));
                shared = prediction.sharedSdLog();
                all.add(Place.booked(
                                "" + visit.told().number(),
                                Clock24.time(visit.told().bookedStart()),
                                visit.told().slot(),
                                promised(prediction))
                        .withTurnaround(turnaround)
                        .withAttendance(mix.didNotAttend(), mix.arrivals()));
            }
            return new DayList(hours, all, 10, Math.min(0.3, shared), null);
        }

        /** Each practitioner's sessions, a few at a time. */
        List<List<InventedSession>> together() {
            Map<Integer, List<InventedSession>> each = new TreeMap<>();
            judged.forEach(session -> each.computeIfAbsent(session.practitioner(), any -> new ArrayList<>())
                    .add(session));
            List<List<InventedSession>> groups = new ArrayList<>();
            for (List<InventedSession> sessions : each.values()) {
                for (int i = 0; i < sessions.size(); i += TOGETHER) {
                    groups.add(sessions.subList(i, Math.min(sessions.size(), i + TOGETHER)));
                }
            }
            return groups;
        }

        List<DayList> oneByOne(List<InventedSession> sessions, Costs costs) {
            List<DayList> lists = new ArrayList<>();
            List<Integer> counts = new ArrayList<>();
            List<Place> asked = new ArrayList<>();
            for (InventedSession session : sessions) {
                DayList full = list(session);
                lists.add(full.withPlaces(List.of()));
                counts.add(full.places().size());
                asked.addAll(full.places());
            }
            Collections.shuffle(asked, new Random(sessions.get(0).date().toEpochDay()));
            return Rollout.booked(lists, counts, asked, mix, costs, STEP);
        }

        void add(Sums to, InventedSession session, DayList list) {
            List<InventedVisit> order = new ArrayList<>();
            int[] starts = new int[list.places().size()];
            for (int i = 0; i < starts.length; i++) {
                Place place = list.places().get(i);
                starts[i] = (int) Math.round(Clock24.minutes(place.booked()));
                order.add(visit(place.name()));
            }
            List<DayRun> drawn = new ArrayList<>();
            for (int day = 0; day < DRAWN; day++) {
                int number = day;
                List<InventedVisit> again = order.stream()
                        .map(each -> anotherDay.drawn(each, number))
                        .toList();
                drawn.add(DayRun.of(again, starts, session.start(), session.end()));
            }
            to.add(DayRun.of(order, starts, session.start(), session.end()), drawn, Projection.of(list));
        }

        private InventedVisit visit(String name) {
            return judged.stream()
                    .flatMap(session -> session.visits().stream())
                    .filter(each -> ("" + each.told().number()).equals(name))
                    .findFirst()
                    .orElseThrow();
        }
    }
}
