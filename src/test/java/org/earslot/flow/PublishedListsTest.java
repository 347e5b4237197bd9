package org.earslot.flow;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.data.Percentage.withPercentage;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.Price;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;

/**
 * Lists with published figures. Exponential service of mean 1, cost = w x sum of E[idle] + (1 - w) x sum of E[wait],
 * w = 0.5: Mahes, Mandjes & Boon, arXiv 2103.09596, thesis code (MIT licence), derived again independently to 12
 * digits. Here the mean is 20 minutes on the 1 minute grid, a twentieth of it, so costs are 20 times theirs.
 */
class PublishedListsTest {

    private static final double MEAN = 20;
    private static final Costs HALVES = new Costs(0.5, 0.5, 0);
    private static final LocalTime FROM = LocalTime.of(8, 0);

    private static DayList list(double[] starts, MinutesDistribution... times) {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < starts.length; i++) {
            LocalTime start = Clock24.time(8 * 60 + starts[i]);
            places.add(Place.booked("v" + i, start, 20, times[i % times.length]));
        }
        return DayList.planned(Session.between(FROM, LocalTime.of(19, 0)), places);
    }

    private static double[] unit(double... starts) {
        double[] minutes = starts.clone();
        for (int i = 0; i < minutes.length; i++) {
            minutes[i] *= MEAN;
        }
        return minutes;
    }

    @Test
    void tenVisitsAtTheirBestStartsCostWhatWasPublished() {
        double[] starts = unit(
                0,
                1.0060071,
                2.51514233,
                4.10467352,
                5.71586396,
                7.32586284,
                8.91668111,
                10.46217557,
                11.90389501,
                13.02920249);
        Price price = Price.of(list(starts, new ExponentialMinutes(MEAN)), HALVES);
        assertThat(price.total() / MEAN).isCloseTo(4.693543139195542, withPercentage(0.1));
        assertThat(price.waitMinutes() / MEAN).isCloseTo(4.58059100120828, withPercentage(0.1));
        assertThat(price.idleMinutes() / MEAN).isCloseTo(4.80649527718310, withPercentage(0.1));
    }

    @Test
    void theSearchReachesThePublishedOptimumOfTenVisits() {
        DayList asked = list(new double[10], new ExponentialMinutes(MEAN));
        StartTimes found = StartTimes.of(spread(asked), HALVES, StartTimes.Rules.everyMinutes(1));
        assertThat(found.after().total() / MEAN).isCloseTo(4.693543139195542, withPercentage(0.1));
        assertThat(found.reached().improved()).isTrue();
    }

    /** n = 15, rates equally spaced from 0.5 to 1.5. */
    @Test
    void theSearchReachesThePublishedOptimaOfFifteenUnequalVisits() {
        MinutesDistribution[] shortestFirst = new MinutesDistribution[15];
        MinutesDistribution[] longestFirst = new MinutesDistribution[15];
        for (int i = 0; i < 15; i++) {
            shortestFirst[i] = new ExponentialMinutes(MEAN / (1.5 - i / 14.0));
            longestFirst[i] = new ExponentialMinutes(MEAN / (0.5 + i / 14.0));
        }
        StartTimes.Rules everyMinute = StartTimes.Rules.everyMinutes(1);
        DayList up = spread(list(new double[15], shortestFirst));
        DayList down = spread(list(new double[15], longestFirst));
        assertThat(StartTimes.of(up, HALVES, everyMinute).after().total() / MEAN)
                .isCloseTo(7.518403090441576, withPercentage(0.1));
        assertThat(StartTimes.of(down, HALVES, everyMinute).after().total() / MEAN)
                .isCloseTo(9.232766261637718, withPercentage(0.1));
        assertThat(StartTimes.of(down, HALVES, everyMinute.withOrderFree())
                                .after()
                                .total()
                        / MEAN)
                .isLessThan(7.518403090441576 * 1.001);
    }

    private static DayList spread(DayList list) {
        List<Place> places = new ArrayList<>();
        for (Place place : list.places()) {
            places.add(place.movedTo(FROM.plusMinutes(20L * places.size()), 20));
        }
        return list.withPlaces(places);
    }

    /** n = 2: x* = ln 2, cost 0.346574. */
    @Test
    void twoVisitsStandLnTwoApart() {
        StartTimes found = StartTimes.of(
                list(new double[] {0, 40}, new ExponentialMinutes(MEAN)), HALVES, StartTimes.Rules.everyMinutes(1));
        assertThat(gap(found)).isCloseTo(MEAN * Math.log(2), within(0.5));
        assertThat(found.after().total() / MEAN).isCloseTo(0.346574, withPercentage(0.1));
    }

    /** The newsvendor fraction (textbook): the second of two visits starts where F(x*) = 1 - w. */
    @Test
    void twoVisitsOfAnyServiceStandANewsvendorsFractionApart() {
        LogNormalMinutes time = LogNormalMinutes.ofMoments(20, 8);
        for (double w : new double[] {0.2, 0.5, 0.7}) {
            StartTimes found = StartTimes.of(
                    list(new double[] {0, 40}, time), new Costs(1 - w, w, 0), StartTimes.Rules.everyMinutes(1));
            assertThat(gap(found)).isCloseTo(time.quantile(1 - w), within(0.6));
        }
    }

    private static double gap(StartTimes found) {
        List<Place> places = found.list().places();
        return Clock24.minutes(places.get(1).booked())
                - Clock24.minutes(places.get(0).booked());
    }

    /** D/M/1 started empty, gap 15; first and mean waits of customers 2 to 17. */
    @Test
    void evenlySpacedVisitsWaitAsInTheTransientQueue() {
        double[] starts = new double[17];
        for (int i = 0; i < 17; i++) {
            starts[i] = 15 * i;
        }
        Projection slower = Projection.of(list(starts, new ExponentialMinutes(10.5)), 0.5);
        assertThat(meanWait(slower)).isCloseTo(6.875955275509632, withPercentage(0.1));
        assertThat(slower.visits().get(0).waitMinutes()).isZero();
        assertThat(slower.visits().get(1).waitMinutes()).isCloseTo(2.51633588263865, withPercentage(0.1));
        assertThat(slower.visits().get(2).waitMinutes()).isCloseTo(3.98086767396289, withPercentage(0.1));
        assertThat(slower.visits().get(3).waitMinutes()).isCloseTo(4.98070846735662, withPercentage(0.1));
        Projection faster = Projection.of(list(starts, new ExponentialMinutes(10)), 0.5);
        assertThat(meanWait(faster)).isCloseTo(5.678378759800523, withPercentage(0.1));
    }

    private static double meanWait(Projection projection) {
        return projection.visits().stream()
                .skip(1)
                .mapToDouble(Projection.Visit::waitMinutes)
                .average()
                .orElseThrow();
    }

    /** Steady D/M/1: sigma = exp(-(1 - sigma) / rho), mean wait / service = sigma / (1 - sigma). */
    @Test
    void aLongEvenlySpacedListNearsTheSteadyQueue() {
        double[] starts = new double[400];
        for (int i = 0; i < 400; i++) {
            starts[i] = 1.5 * i;
        }
        Projection projection = Projection.of(list(starts, new ExponentialMinutes(1.2)), 0.06);
        assertThat(projection.visits().get(399).waitMinutes() / 1.2).isCloseTo(1.6927308399, withPercentage(0.1));
    }

    /** The same at rho .9, where it takes far longer to settle. */
    @Test
    void aVeryLongListNearsTheSteadyQueueOfNineTenths() {
        double[] starts = new double[1500];
        for (int i = 0; i < starts.length; i++) {
            starts[i] = 0.4 * i;
        }
        Projection projection = Projection.of(list(starts, new ExponentialMinutes(0.36)), 0.018);
        assertThat(projection.visits().get(1499).waitMinutes() / 0.36).isCloseTo(4.1786594221, withPercentage(0.1));
    }

    @Test
    void allBookedTogetherWaitForTheMeansBefore() {
        MinutesDistribution[] times = {
            LogNormalMinutes.ofMoments(18, 7), LogNormalMinutes.ofMoments(25, 11), new ExponentialMinutes(12)
        };
        Projection projection = Projection.of(list(new double[9], times).withCommonSd(0.16));
        double means = 0;
        for (int i = 0; i < 9; i++) {
            assertThat(projection.visits().get(i).waitMinutes()).isCloseTo(means, within(0.005));
            means += times[i % 3].mean();
        }
    }
}
