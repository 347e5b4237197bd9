package org.earslot.flow.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Predicate;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

/** The short way to a list's waits, idle and overtime against the whole projection. */
class PlanCostTest {

    private static final LocalTime NINE = LocalTime.of(9, 0);
    private static final Costs COSTS = new Costs(1, 0.7, 1.5);
    private static final Predicate<String> COUNTS = name -> name.startsWith("booked");

    private final Random random = new Random(11);

    @Test
    void pricesAsTheProjectionDoes() {
        for (int i = 0; i < 20; i++) {
            assertPricedAlike(plan(random.nextInt(12)));
        }
    }

    @Test
    void pricesTwoRoomsAsTheProjectionDoes() {
        assertPricedAlike(inTwoRooms(plan(8)));
    }

    @Test
    void aVisitAddsWhatTheListWithoutItDoesNotHave() {
        for (int i = 0; i < 40; i++) {
            assertAddedAlike(plan(1 + random.nextInt(12)));
        }
    }

    @Test
    void aVisitAddsTheSameInTwoRooms() {
        assertAddedAlike(inTwoRooms(plan(6)));
    }

    private static void assertPricedAlike(DayList list) {
        Price brief = PlanCost.of(list).price(COSTS);
        Price whole = Price.of(Projection.of(list), COSTS);
        assertThat(brief.total()).isCloseTo(whole.total(), within(1e-9));
        assertThat(brief.waitMinutes()).isCloseTo(whole.waitMinutes(), within(1e-9));
        assertThat(brief.idleMinutes()).isCloseTo(whole.idleMinutes(), within(1e-9));
        assertThat(brief.overtimeMinutes()).isCloseTo(whole.overtimeMinutes(), within(1e-9));
        assertThat(brief.pastEnd()).isCloseTo(whole.pastEnd(), within(1e-9));
    }

    private static void assertAddedAlike(DayList list) {
        Projection with = Projection.of(list);
        for (Place own : list.places()) {
            Predicate<String> counts = COUNTS.and(name -> !name.equals(own.name()));
            List<Place> others = new ArrayList<>(list.places());
            others.remove(own);
            double added = waits(with, counts) - waits(Projection.of(list.withPlaces(others)), counts);
            PlanCost.OfOne found = PlanCost.of(list, own.name(), counts);
            assertThat(found.addedWaitMinutes()).isCloseTo(added, within(1e-7));
            assertThat(found.ownWaitMinutes()).isCloseTo(with.visit(own.name()).waitMinutes(), within(1e-9));
            assertThat(found.all().price(COSTS).total())
                    .isCloseTo(Price.of(with, COSTS).total(), within(1e-9));
        }
    }

    private static double waits(Projection run, Predicate<String> counts) {
        return run.visits().stream()
                .filter(visit -> counts.test(visit.name()))
                .mapToDouble(visit -> visit.attends() * visit.waitMinutes())
                .sum();
    }

    /** A morning with a break; every third place is not counted, some will not come, some come late. */
    private DayList plan(int visits) {
        List<Place> places = new ArrayList<>();
        LocalTime start = NINE;
        for (int i = 0; i < visits; i++) {
            double mean = 8 + 20 * random.nextDouble();
            places.add(Place.booked(
                            (i % 3 == 2 ? "free " : "booked ") + i,
                            start,
                            15,
                            LogNormalMinutes.ofMoments(mean, 0.4 * mean))
                    .withTurnaround(LogNormalMinutes.ofMoments(3, 1))
                    .withAttendance(0.2 * random.nextDouble(), arrivals()));
            start = start.plusMinutes(10 + random.nextInt(4) * 5L);
        }
        Session session = Session.between(NINE, LocalTime.of(12, 30))
                .withBreaks(new Break(LocalTime.of(10, 30), LocalTime.of(10, 45), 5));
        return DayList.planned(session, places).withCommonSd(random.nextInt(3) * 0.15);
    }

    private static DayList inTwoRooms(DayList list) {
        List<Place> places = new ArrayList<>();
        for (Place place : list.places()) {
            places.add(place.inRoom(places.size() % 2 == 0 ? "A" : "B"));
        }
        return list.withPlaces(places);
    }

    private Arrivals arrivals() {
        return random.nextBoolean() ? Arrivals.EARLY : new Arrivals(10, LogNormalMinutes.ofMoments(8, 5));
    }
}
