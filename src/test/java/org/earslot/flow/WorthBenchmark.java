package org.earslot.flow;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.function.Function;
import org.earslot.duration.FittedModel;
import org.earslot.duration.OncePlusParts;
import org.earslot.duration.Prediction;
import org.earslot.duration.Priors;
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
 * (order given, order free) and against bookings one by one in random order. Each policy is run at several weights; its
 * wait is read where its overtime equals that of fixed slots.
 *
 * <p>Arguments: clinics, sessions judged of each practitioner, 1 to run the bookings one by one too.
 */
public final class WorthBenchmark {

    private static final int PAST = 2500;
    private static final double STEP = 5;
    private static final double[] WEIGHTS = {1, 2.5, 6, 15};
    private static final double IDLE = Double.parseDouble(System.getProperty("idle", "0"));

    private double wait;
    private double overtime;
    private int patients;
    private int days;

    private WorthBenchmark() {}

    public static void main(String[] arguments) {
        int clinics = Integer.parseInt(arguments[0]);
        int sessions = Integer.parseInt(arguments[1]);
        boolean offers = arguments.length > 2 && arguments[2].equals("1");
        WorthBenchmark fixed = new WorthBenchmark();
        WorthBenchmark[][] found = new WorthBenchmark[3][WEIGHTS.length];
        for (WorthBenchmark[] each : found) {
            java.util.Arrays.setAll(each, i -> new WorthBenchmark());
        }
        int practitioners = 0;
        for (int seed = 1; seed <= clinics; seed++) {
            Clinic clinic = Clinic.of(100 + seed, 2 + seed % 3, sessions);
            practitioners += 2 + seed % 3;
            for (InventedSession session : clinic.judged) {
                fixed.add(DayRun.asBooked(session));
                for (int w = 0; w < WEIGHTS.length; w++) {
                    Costs costs = new Costs(1, IDLE, WEIGHTS[w]);
                    found[0][w].add(clinic.run(session, clinic.together(session, costs, false)));
                    found[1][w].add(clinic.run(session, clinic.together(session, costs, true)));
                    if (offers) {
                        found[2][w].add(clinic.run(session, clinic.oneByOne(session, costs)));
                    }
                }
            }
            print(fixed, found, practitioners, offers);
        }
    }

    private static void print(WorthBenchmark fixed, WorthBenchmark[][] found, int practitioners, boolean offers) {
        System.out.printf(
                Locale.ROOT,
                "%d practitioners, %d days, %d patients%nfixed slots: mean wait %.2f, overtime %.2f%n",
                practitioners,
                fixed.days,
                fixed.patients,
                fixed.meanWait(),
                fixed.meanOvertime());
        String[] names = {"starts together, order given", "starts together, order free", "offers, one by one"};
        for (int policy = 0; policy < (offers ? 3 : 2); policy++) {
            StringBuilder line = new StringBuilder(String.format(Locale.ROOT, "%-30s", names[policy]));
            for (WorthBenchmark each : found[policy]) {
                line.append(String.format(Locale.ROOT, " (%.2f, %.2f)", each.meanWait(), each.meanOvertime()));
            }
            double at = atOvertime(found[policy], fixed.meanOvertime());
            System.out.printf(
                    Locale.ROOT, "%s  at equal overtime %.2f: %+.1f %%%n", line, at, 100 * (at / fixed.meanWait() - 1));
        }
    }

    /** The wait where the overtime is this, read straight between the weights, at most that of the nearest weight. */
    private static double atOvertime(WorthBenchmark[] runs, double overtime) {
        List<WorthBenchmark> sorted = new ArrayList<>(List.of(runs));
        sorted.sort((a, b) -> Double.compare(a.meanOvertime(), b.meanOvertime()));
        if (overtime <= sorted.get(0).meanOvertime()) {
            return overtime < sorted.get(0).meanOvertime()
                    ? Double.NaN
                    : sorted.get(0).meanWait();
        }
        for (int i = 1; i < sorted.size(); i++) {
            WorthBenchmark low = sorted.get(i - 1);
            WorthBenchmark high = sorted.get(i);
            if (overtime <= high.meanOvertime()) {
                double part = (overtime - low.meanOvertime()) / (high.meanOvertime() - low.meanOvertime());
                return low.meanWait() + part * (high.meanWait() - low.meanWait());
            }
        }
        return sorted.get(sorted.size() - 1).meanWait();
    }

    private void add(DayRun run) {
        wait += run.waits().stream().mapToDouble(each -> each).sum();
        patients += run.waits().size();
        overtime += run.overtime();
        days++;
    }

    private double meanWait() {
        return wait / patients;
    }

    private double meanOvertime() {
        return overtime / days;
    }

    /** A clinic after its first 2,500 visits, and what it has learnt. */
    private record Clinic(
            FittedModel model,
            List<InventedSession> judged,
            Mix mix,
            MinutesDistribution turnaround,
            double absent,
            Arrivals arrivals) {

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
            for (InventedVisit visit : past.subList(PAST - 200, PAST)) {
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
                            .filter(each -> each.kept().calledIn() == null
                                    && !each.truth().attends())
                            .count()
                    / listed.size();
            return new Clinic(
                    model,
                    judged,
                    new Mix(kinds, absent, new Arrivals(60, delay)),
                    turnaround,
                    absent,
                    new Arrivals(60, delay));
        }

        private static MinutesDistribution promised(Prediction prediction) {
            return new org.earslot.estimate.Promise(
                            "",
                            0,
                            prediction.inRoom().mean(),
                            prediction.inRoom().standardDeviation(),
                            java.util.Map.of(),
                            org.earslot.estimate.Promise.quantiles(prediction.inRoom()),
                            0)
                    .inRoomMinutes();
        }

        private static MinutesDistribution moments(
                List<InventedVisit> visits, double shift, Function<InventedVisit, Double> of) {
            double[] all = visits.stream()
                    .map(of)
                    .mapToDouble(each -> each + shift)
                    .filter(each -> each > 0)
                    .toArray();
            double mean = java.util.Arrays.stream(all).average().orElseThrow();
            double variance = java.util.Arrays.stream(all)
                    .map(each -> (each - mean) * (each - mean))
                    .average()
                    .orElseThrow();
            return LogNormalMinutes.ofMoments(mean, Math.sqrt(variance));
        }

        private DayList list(InventedSession session, boolean places) {
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
                        .withAttendance(absent, arrivals));
            }
            return new DayList(hours, places ? all : List.of(), 10, Math.min(0.3, shared), null);
        }

        DayList together(InventedSession session, Costs costs, boolean free) {
            StartTimes.Rules rules = StartTimes.Rules.everyMinutes(STEP);
            return StartTimes.of(list(session, true), costs, free ? rules.withOrderFree() : rules)
                    .list();
        }

        DayList oneByOne(InventedSession session, Costs costs) {
            DayList full = list(session, true);
            List<Place> asked = new ArrayList<>(full.places());
            Collections.shuffle(asked, new Random(session.date().toEpochDay()));
            return Rollout.booked(list(session, false), asked, mix, costs, STEP);
        }

        DayRun run(InventedSession session, DayList list) {
            List<InventedVisit> order = new ArrayList<>();
            int[] starts = new int[list.places().size()];
            for (int i = 0; i < starts.length; i++) {
                Place place = list.places().get(i);
                starts[i] = (int) Math.round(Clock24.minutes(place.booked()));
                order.add(session.visits().stream()
                        .filter(each -> ("" + each.told().number()).equals(place.name()))
                        .findFirst()
                        .orElseThrow());
            }
            return DayRun.of(order, starts, session.start(), session.end());
        }
    }
}
