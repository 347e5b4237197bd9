package org.earslot.flow;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.earslot.minutes.LogNormalMinutes;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** Speed of the day's projection. Aims: 1 ms for twenty visits on the 1 minute grid with five nodes. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 4, time = 1)
@Measurement(iterations = 5, time = 1)
public class FlowBenchmark {

    private final DayList twenty = list(20, false);
    private final DayList arrivals = list(20, true);
    private final DayList rooms = twoRooms();

    static DayList list(int visits, boolean arrivals) {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < visits; i++) {
            double mean = 14 + 3 * (i % 5);
            Place place = Place.booked(
                            "v" + i,
                            LocalTime.of(9, 0).plusMinutes(23L * i),
                            23,
                            LogNormalMinutes.ofMoments(mean, 0.38 * mean))
                    .withTurnaround(LogNormalMinutes.ofMoments(3, 1));
            places.add(
                    arrivals ? place.withAttendance(0.05, new Arrivals(30, LogNormalMinutes.ofMoments(22, 8))) : place);
        }
        Session session = Session.between(LocalTime.of(9, 0), LocalTime.of(16, 45));
        return new DayList(session, places, 5, 0.16, null);
    }

    private static DayList twoRooms() {
        DayList list = list(20, true);
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            places.add(list.places().get(i).inRoom(i % 2 == 0 ? "A" : "B"));
        }
        return list.withPlaces(places);
    }

    @Benchmark
    public Projection projectTwentyVisits() {
        return Projection.of(twenty);
    }

    @Benchmark
    public Projection projectTwentyVisitsWithArrivals() {
        return Projection.of(arrivals);
    }

    @Benchmark
    public Projection projectTwentyVisitsInTwoRooms() {
        return Projection.of(rooms);
    }
}
