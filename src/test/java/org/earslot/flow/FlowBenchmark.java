package org.earslot.flow;

import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.OpenList;
import org.earslot.flow.plan.Rollout;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.run.Projection;
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

/** Speed of the day's projection. Aims: 1 ms for twenty visits on the 1 minute grid with five nodes;
 * 1 s to set twenty starts; 200 ms for offers over twelve weeks of four practitioners. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 4, time = 1)
@Measurement(iterations = 5, time = 1)
public class FlowBenchmark {

    static {
        // As in the program.
        DistributionTables.cacheWith(
                Caffeine.newBuilder().maximumSize(4_000).<DistributionTables.Key, DistributionTable>build()::get);
    }

    private static final Costs COSTS = new Costs(1, 1, 1.5);

    private final DayList twenty = list(20, false);
    private final DayList arrivals = list(20, true);
    private final DayList rooms = twoRooms();

    private final Mix mix = new Mix(twenty.places().stream()
            .map(each -> new Mix.Kind("", each.inRoom(), each.turnaround(), 1))
            .toList());
    private final Place referral = Place.booked("referral", LocalTime.of(9, 0), 20, LogNormalMinutes.ofMoments(17, 6));
    private final List<Rollout.Open> weeks = weeks();

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

    @Benchmark
    public StartTimes setTwentyStarts() {
        return StartTimes.of(twenty, COSTS, StartTimes.Rules.everyMinutes(5));
    }

    @Benchmark
    public StartTimes setTwentyStartsInFreeOrder() {
        return StartTimes.of(twenty, COSTS, StartTimes.Rules.everyMinutes(5).withOrderFree());
    }

    @Benchmark
    public Object offerOverTwelveWeeks() {
        return Rollout.offers(weeks, 3);
    }

    /** Twelve weeks of five days, four practitioners: twelve places a day, two of them still free. */
    private List<Rollout.Open> weeks() {
        List<Rollout.Open> open = new ArrayList<>();
        for (int day = 0; day < 240; day++) {
            List<Place> places = new ArrayList<>(list(12, false).places());
            java.util.Collections.rotate(places, day);
            for (int i = 0; i < 12; i++) {
                Place place = places.get(i);
                places.set(i, place.movedTo(LocalTime.of(9, 0).plusMinutes(25L * i), 25));
            }
            DayList list = list(12, false).withPlaces(places);
            places.remove(11);
            places.remove(9);
            open.add(Rollout.Open.allDay(
                    "day " + day, OpenList.of(list.withPlaces(places), mix, 2, COSTS, 5), referral));
        }
        return open;
    }
}
