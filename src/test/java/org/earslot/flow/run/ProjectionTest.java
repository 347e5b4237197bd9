package org.earslot.flow.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.earslot.flow.PlainSimulation;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.list.Stage;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The exact projection against a plain simulation: every figure within 4 standard errors of a million draws. */
public class ProjectionTest {

    private static final long DRAWS = 1_000_000;
    /** Fine enough that the grid's own error is far below the draws' standard error. */
    private static final double STEP = 0.25;
    /** Likewise for the common factor. */
    private static final int NODES = 15;

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void agreesWithDrawsOnRandomLists(long seed) {
        DayList list = randomList(new SplittableRandom(seed));
        agrees(list, seed);
    }

    public static void agrees(DayList list, long seed) {
        agrees(list, seed, STEP);
    }

    public static void agrees(DayList list, long seed, double step) {
        Projection projected = Projection.of(list, step, NODES);
        PlainSimulation drawn = new PlainSimulation(list, projected, DRAWS, 77 + seed);
        for (Projection.Visit visit : projected.visits()) {
            String name = visit.name();
            String of = name + ", seed " + seed;
            close("wait " + of, visit.waitMinutes(), drawn.wait, name);
            close("long wait " + of, visit.longWait(), drawn.longWait, name);
            if (list.places().get(list.indexOf(name)).slotMinutes() > 0) {
                close("past slot " + of, visit.pastSlot(), drawn.pastSlot, name);
            }
        }
        close("past end, seed " + seed, projected.pastEnd(), drawn.pastEnd);
        close("overtime, seed " + seed, projected.overtimeMinutes(), drawn.overtime);
        close("idle, seed " + seed, projected.idleMinutes(), drawn.idle);
    }

    private static void close(String what, double value, Map<String, PlainSimulation.Mean> drawn, String name) {
        close(what, value, drawn.get(name));
    }

    private static void close(String what, double value, PlainSimulation.Mean drawn) {
        assertThat(value).as(what).isCloseTo(drawn.value(), within(4 * drawn.standardError() + 1e-6));
    }

    /** Halving the grid moves no minutes and no clock time of any random list by more than 0.1 minutes, no chance by 0.002. */
    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void halvingTheGridMovesNoFigureOfRandomLists(long seed) {
        halvingMovesNothing(randomList(new SplittableRandom(seed)), seed, 0.1, 0.002);
    }

    /** Likewise of lists that run, with turnarounds and other visits of fixed length and presses to the second. */
    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void halvingTheGridMovesNoFigureOfRunningLists(long seed) {
        halvingMovesNothing(running(randomList(new SplittableRandom(seed))), seed, 0.01, 0.0005);
    }

    /** In two rooms two clocks are known on the points of the grid alone. */
    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14, 15, 16, 17, 18, 21, 22, 24, 29, 40, 41, 44, 47, 52, 53, 66, 69})
    void halvingTheGridMovesNoFigureOfTwoRooms(long seed) {
        DayList list = randomList(new SplittableRandom(seed));
        List<Place> places = new ArrayList<>();
        for (Place place : list.places()) {
            places.add(place.inRoom(places.size() % 2 == 0 ? "A" : "B"));
        }
        halvingMovesNothing(list.withPlaces(places), seed, 0.1, 0.002);
    }

    private static DayList running(DayList list) {
        List<Place> places = new ArrayList<>();
        for (Place place : list.places()) {
            boolean other = place.inRoom() instanceof FixedMinutes;
            places.add(place.withTurnaround(new FixedMinutes(other ? 0 : 3)));
        }
        Stage over = new Stage.Finished(LocalTime.of(8, 50, 12), LocalTime.of(9, 2, 33), LocalTime.of(9, 17, 5), null);
        places.set(0, places.get(0).at(over));
        places.set(1, places.get(1).at(new Stage.InRoom(LocalTime.of(8, 58), LocalTime.of(9, 19, 40))));
        places.set(2, places.get(2).at(new Stage.Present(LocalTime.of(9, 21, 17))));
        return list.at(LocalTime.of(9, 24, 27)).withPlaces(places);
    }

    private static void halvingMovesNothing(DayList list, long seed, double minutes, double chance) {
        Projection whole = Projection.of(list, 1);
        Projection half = Projection.of(list, 0.5);
        for (int i = 0; i < whole.visits().size(); i++) {
            Projection.Visit a = whole.visits().get(i);
            Projection.Visit b = half.visits().get(i);
            String of = a.name() + ", seed " + seed;
            assertThat(a.waitMinutes()).as("wait %s", of).isCloseTo(b.waitMinutes(), within(minutes));
            assertThat(a.longWait()).as("long wait %s", of).isCloseTo(b.longWait(), within(chance));
            assertThat(a.pastSlot()).as("past slot %s", of).isCloseTo(b.pastSlot(), within(chance));
            near("starts " + of, a.starts(), b.starts(), minutes);
            near("finishes " + of, a.finishes(), b.finishes(), minutes);
        }
        assertThat(whole.overtimeMinutes())
                .as("overtime, seed %d", seed)
                .isCloseTo(half.overtimeMinutes(), within(minutes));
        assertThat(whole.idleMinutes()).as("idle, seed %d", seed).isCloseTo(half.idleMinutes(), within(minutes));
        assertThat(whole.pastEnd()).as("past end, seed %d", seed).isCloseTo(half.pastEnd(), within(chance));
    }

    private static void near(String of, Projection.Points a, Projection.Points b, double minutes) {
        near(of, a.tenth(), b.tenth(), minutes);
        near(of, a.median(), b.median(), minutes);
        near(of, a.fourFifths(), b.fourFifths(), minutes);
        near(of, a.ninetieth(), b.ninetieth(), minutes);
        near(of, a.ninetyFifth(), b.ninetyFifth(), minutes);
    }

    private static void near(String of, LocalTime a, LocalTime b, double minutes) {
        assertThat(Clock24.minutes(a)).as("%s", of).isCloseTo(Clock24.minutes(b), within(minutes));
    }

    private static DayList randomList(SplittableRandom random) {
        int visits = 5 + random.nextInt(6);
        double at = 9 * 60;
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < visits; i++) {
            double mean = 10 + 20 * random.nextDouble();
            MinutesDistribution time = LogNormalMinutes.ofMoments(mean, mean * (0.3 + 0.3 * random.nextDouble()));
            boolean other = random.nextInt(6) == 0;
            Place place = Place.booked("v" + i, clock(at), Math.ceil(mean / 5) * 5, other ? new FixedMinutes(20) : time)
                    .withTurnaround(LogNormalMinutes.ofMoments(4, 1.5));
            double never = 0.1 * random.nextDouble();
            MinutesDistribution delay = LogNormalMinutes.ofMoments(28, 9);
            places.add(place.withAttendance(never, random.nextInt(3) == 0 ? Arrivals.EARLY : new Arrivals(35, delay)));
            at += Math.ceil((mean + 2) / 5) * 5;
            at = at > 11 * 60 && at < 11 * 60 + 15 ? 11 * 60 + 15 : at;
        }
        Session session =
                Session.between(clock(9 * 60), clock(at)).withBreaks(new Break(clock(11 * 60), clock(11 * 60 + 15), 5));
        return new DayList(session, places, 5 * random.nextInt(3), 0.16, null);
    }

    static LocalTime clock(double minutes) {
        return Clock24.time(minutes);
    }
}
