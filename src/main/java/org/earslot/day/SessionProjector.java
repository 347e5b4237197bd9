package org.earslot.day;

import java.time.Duration;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.SessionProjection.Expected;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.list.Stage;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.FixedMinutes;
import org.jspecify.annotations.Nullable;

/** Puts a practitioner's list to the projection and reads its answer. */
public final class SessionProjector {

    private static final double MOST_SHARED = 1;

    private static final String AGAIN = "/again";
    private static final String ONE_ROOM = "";

    private SessionProjector() {}

    /**
     * How the list runs.
     *
     * @param visits in any order; those who do not come are left out
     * @param now the time of the clock on the day itself; null on a plan
     */
    public static SessionProjection of(
            ClinicSession session, List<ListedVisit> visits, PolicyTerms policy, @Nullable LocalTime now) {
        List<ListedVisit> coming = coming(visits);
        if (coming.isEmpty()) {
            return new SessionProjection(Map.of(), 0, 0, 0);
        }
        Projection projection = Projection.of(list(session, coming, policy, now));
        Map<UUID, Expected> expected = new HashMap<>();
        for (int i = 0; i < coming.size(); i++) {
            expected.put(coming.get(i).id(), expected(projection, coming.get(i)));
        }
        return new SessionProjection(
                expected, projection.pastEnd(), projection.overtimeMinutes(), projection.idleMinutes());
    }

    /** Those who come and whose times can be true, in the order of calling. */
    public static List<ListedVisit> coming(List<ListedVisit> visits) {
        return visits.stream()
                .filter(visit -> visit.comes() && visit.plausible())
                .sorted(Comparator.comparing(ListedVisit::turn))
                .toList();
    }

    /** The list as it is projected; each place is named by its appointment. */
    public static DayList list(
            ClinicSession session, List<ListedVisit> coming, PolicyTerms policy, @Nullable LocalTime now) {
        return new DayList(hours(session), places(coming), policy.earlyAllowanceMinutes(), shared(coming), now);
    }

    static Session hours(ClinicSession session) {
        TimeSpan span = session.span();
        Session hours = Session.between(span.from(), span.to());
        return session.pause()
                .map(pause -> hours.withBreaks(Break.kept(pause.from(), pause.to())))
                .orElse(hours);
    }

    /**
     * One place for each; for one who is called in twice, a second where that is due. Two rooms are told apart, since
     * somebody turns one round while the other is in use; with more, the list is taken to run in one.
     */
    private static List<Place> places(List<ListedVisit> coming) {
        List<Place> places = new ArrayList<>();
        boolean two = coming.stream().map(ListedVisit::room).distinct().count() == 2;
        List<ListedVisit> again =
                coming.stream().filter(visit -> visit.outside() != null).toList();
        coming.forEach(visit -> places.add(place(visit).inRoom(two ? visit.room() : ONE_ROOM)));
        for (ListedVisit visit : again) {
            LocalTime due = visit.outside().due();
            int after = places.indexOf(places.stream()
                    .filter(place -> place.name().equals(visit.id().toString()))
                    .findFirst()
                    .orElseThrow());
            int at = after + 1;
            while (at < places.size() && isBefore(places.get(at), coming, due)) {
                at++;
            }
            places.add(at, secondPlace(visit, visit.outside()).inRoom(two ? visit.room() : ONE_ROOM));
        }
        return places;
    }

    private static boolean isBefore(Place place, List<ListedVisit> coming, LocalTime due) {
        return coming.stream()
                .filter(visit -> visit.id().toString().equals(place.name()))
                .allMatch(visit -> !visit.turn().isAfter(due));
    }

    private static Place secondPlace(ListedVisit visit, InterruptedVisit outside) {
        LocalClock times = visit.times();
        Stage stage = Stage.EXPECTED;
        if (outside.to() != null) {
            stage = times.finished() == null
                    ? new Stage.InRoom(null, outside.to())
                    : new Stage.Finished(null, outside.to(), times.finished(), times.roomReady());
        }
        double before = times.calledIn() == null
                ? 0
                : Math.max(0, Duration.between(times.calledIn(), outside.from()).toSeconds() / 60.0);
        return Place.calledAgain(
                        visit.id() + AGAIN,
                        visit.id().toString(),
                        InterruptedVisit.MINUTES,
                        visit.inRoom().remainder(before))
                .withTurnaround(new FixedMinutes(visit.turnaroundMinutes()))
                .at(stage);
    }

    private static Place place(ListedVisit visit) {
        InterruptedVisit outside = visit.outside();
        Stage stage = outside == null
                ? stage(visit.times())
                : new Stage.Finished(visit.times().arrived(), visit.times().calledIn(), outside.from(), outside.from());
        // A fit-in who has not come yet is expected from the time that was said.
        LocalTime booked = visit.booked() == null && stage == Stage.EXPECTED ? visit.from() : visit.booked();
        return new Place(
                visit.id().toString(),
                booked,
                visit.booked() == null ? 0 : visit.slotMinutes(),
                visit.inRoom(),
                new FixedMinutes(visit.turnaroundMinutes()),
                visit.likely().absent(),
                visit.likely().arrivals(),
                ONE_ROOM,
                stage,
                null);
    }

    private static Stage stage(LocalClock times) {
        if (times.calledIn() == null) {
            return times.arrived() == null ? Stage.EXPECTED : new Stage.Present(times.arrived());
        }
        return times.finished() == null
                ? new Stage.InRoom(times.arrived(), times.calledIn())
                : new Stage.Finished(times.arrived(), times.calledIn(), times.finished(), times.roomReady());
    }

    /** The root mean square of what each shares. */
    private static double shared(List<ListedVisit> visits) {
        double square = visits.stream()
                .mapToDouble(visit -> visit.sharedSdLog() * visit.sharedSdLog())
                .average()
                .orElse(0);
        return Math.min(MOST_SHARED, Math.sqrt(square));
    }

    private static Expected expected(Projection projection, ListedVisit listed) {
        Projection.Visit visit = projection.visit(listed.id().toString());
        Projection.Points starts = visit.starts();
        Projection.Points finishes = listed.outside() == null
                ? visit.finishes()
                : projection.visit(listed.id() + AGAIN).finishes();
        return new Expected(
                starts == null ? null : starts.median(),
                starts == null ? null : starts.tenth(),
                starts == null ? null : starts.ninetieth(),
                finishes == null ? null : finishes.median(),
                finishes == null ? null : finishes.ninetyFifth(),
                visit.waitMinutes(),
                visit.longWait(),
                visit.pastSlot());
    }
}
