package org.earslot.flow;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Priors;
import org.earslot.estimate.BookedEstimate;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.invented.AnotherDay;
import org.earslot.invented.DayRun;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedSession;
import org.earslot.invented.InventedTable;
import org.earslot.invented.InventedVisit;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;

/**
 * An invented clinic after its first {@value #VISITS} timed visits, and what it has learnt from them.
 *
 * @param judged the sessions after those
 * @param mix what is usually booked
 */
record LearntClinic(
        FittedModel model,
        List<InventedSession> judged,
        Mix mix,
        MinutesDistribution turnaround,
        AnotherDay anotherDay) {

    private static final int VISITS = 2500;

    static LearntClinic of(long seed, int practitioners, int sessions) {
        InventedClinic clinic = InventedClinic.of(seed, practitioners, VISITS + 14 * sessions * practitioners);
        List<InventedVisit> past = clinic.timedVisits().subList(0, VISITS);
        LocalDate last = past.get(VISITS - 1).told().date();
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
        for (InventedVisit visit : past.subList(VISITS - 160, VISITS)) {
            Prediction prediction = model.predict(InventedTable.asked(visit));
            kinds.add(new Mix.Kind(
                    visit.told().method() + " " + visit.told().ears(), estimated(prediction), turnaround, 1));
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
        double absent =
                (double) listed.stream().filter(each -> !each.truth().attends()).count() / listed.size();
        Mix mix = new Mix(kinds, absent, new Arrivals(60, delay));
        return new LearntClinic(model, judged, mix, turnaround, AnotherDay.of(clinic, past));
    }

    /** As the diary keeps it. */
    private static MinutesDistribution estimated(Prediction prediction) {
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

    /** As booked, with the estimates of what was told. */
    DayList list(InventedSession session) {
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
                            estimated(prediction))
                    .withTurnaround(turnaround)
                    .withAttendance(mix.didNotAttend(), mix.arrivals()));
        }
        return new DayList(hours, all, 10, Math.min(0.3, shared), null);
    }

    /** The list as it happened. */
    DayRun happened(DayList list) {
        return run(list, visits(list));
    }

    /** The list on another day of that number, with its times drawn anew. */
    DayRun drawn(DayList list, int day) {
        return run(
                list,
                visits(list).stream().map(each -> anotherDay.drawn(each, day)).toList());
    }

    private static DayRun run(DayList list, List<InventedVisit> visits) {
        int[] starts = list.places().stream()
                .mapToInt(place -> (int) Math.round(Clock24.minutes(place.booked())))
                .toArray();
        int from = (int) list.session().fromMinutes();
        return DayRun.of(visits, starts, from, (int) list.session().toMinutes());
    }

    private List<InventedVisit> visits(DayList list) {
        return list.places().stream().map(place -> visit(place.name())).toList();
    }

    private InventedVisit visit(String name) {
        return judged.stream()
                .flatMap(session -> session.visits().stream())
                .filter(each -> ("" + each.told().number()).equals(name))
                .findFirst()
                .orElseThrow();
    }
}
