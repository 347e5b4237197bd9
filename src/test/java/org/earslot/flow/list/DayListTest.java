package org.earslot.flow.list;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.plan.CallInChoices;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a list may be, the grid it is computed on, and the late or walk-in card. */
class DayListTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");
    private static final Costs COSTS = new Costs(1, 1, 1.5);

    private static DayList morning() {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < 9; i++) {
            double mean = 13 + 4 * (i % 4);
            places.add(Place.booked(
                            "v" + i,
                            LocalTime.of(9, 0).plusMinutes(21L * i),
                            20,
                            LogNormalMinutes.ofMoments(mean, 0.4 * mean))
                    .withTurnaround(LogNormalMinutes.ofMoments(3, 1))
                    .withAttendance(0.06, new Arrivals(30, LogNormalMinutes.ofMoments(23, 8))));
        }
        Session session = new Session(
                LocalTime.of(9, 0),
                LocalTime.of(12, 15),
                List.of(new Break(LocalTime.of(10, 40), LocalTime.of(10, 45), 2)));
        return new DayList(session, places, 5, 0.16, null);
    }

    @Test
    void halvingTheGridMovesNoFigure() {
        Projection whole = Projection.of(morning(), 1);
        Projection half = Projection.of(morning(), 0.5);
        for (int i = 0; i < whole.visits().size(); i++) {
            Projection.Visit a = whole.visits().get(i);
            Projection.Visit b = half.visits().get(i);
            near(a.starts().tenth(), b.starts().tenth());
            near(a.starts().median(), b.starts().median());
            near(a.starts().ninetieth(), b.starts().ninetieth());
            near(a.finishes().median(), b.finishes().median());
            near(a.finishes().ninetyFifth(), b.finishes().ninetyFifth());
            assertThat(a.waitMinutes()).isCloseTo(b.waitMinutes(), within(0.1));
            assertThat(a.longWait()).isCloseTo(b.longWait(), within(0.002));
            assertThat(a.pastSlot()).isCloseTo(b.pastSlot(), within(0.002));
        }
        assertThat(whole.overtimeMinutes()).isCloseTo(half.overtimeMinutes(), within(0.1));
        assertThat(whole.idleMinutes()).isCloseTo(half.idleMinutes(), within(0.1));
        assertThat(whole.pastEnd()).isCloseTo(half.pastEnd(), within(0.002));
    }

    private static void near(LocalTime a, LocalTime b) {
        assertThat(Clock24.minutes(a)).isCloseTo(Clock24.minutes(b), within(0.1));
    }

    @Test
    void ignoringWhatVisitsShareUnderstatesOvertime() {
        assertThat(Projection.of(morning()).overtimeMinutes())
                .isGreaterThan(1.05 * Projection.of(morning().withCommonSd(0)).overtimeMinutes());
    }

    @Test
    void sessionsPastMidnightAreRefused() {
        assertThatThrownBy(() -> Session.between(LocalTime.of(20, 0), LocalTime.of(1, 0)))
                .hasMessageContaining("split a session that passes midnight");
        assertThatThrownBy(() -> Session.between(LocalTime.of(20, 0), LocalTime.MIDNIGHT))
                .isInstanceOf(IllegalArgumentException.class);
    }

    /** Clocks go forward on 29 March and back on 25 October 2026. */
    @ParameterizedTest
    @ValueSource(strings = {"2026-03-29", "2026-10-25", "2026-11-25"})
    void aDayOfClockChangeRunsByTheClock(LocalDate day) {
        Session session = Session.on(day, LocalTime.of(9, 0), LocalTime.of(12, 0), List.of(), LONDON);
        assertThat(session).isEqualTo(Session.between(LocalTime.of(9, 0), LocalTime.of(12, 0)));
    }

    @ParameterizedTest
    @ValueSource(strings = {"2026-03-29", "2026-10-25"})
    void aSessionAcrossAClockChangeIsRefused(LocalDate day) {
        assertThatThrownBy(() -> Session.on(day, LocalTime.of(0, 30), LocalTime.of(3, 0), List.of(), LONDON))
                .hasMessageContaining("the clocks change");
    }

    @Test
    void everyProblemOfAListIsReported() {
        Place place = morning().places().get(0);
        assertThatThrownBy(() -> DayList.planned(
                        morning().session(),
                        List.of(
                                place.inRoom("A"),
                                place.inRoom("B"),
                                place.inRoom("C"),
                                Place.calledAgain("x", "nobody", 15, place.inRoom()))))
                .hasMessageContaining("same name")
                .hasMessageContaining("4 rooms")
                .hasMessageContaining("second call-in");
    }

    @Test
    void aWalkInCostsTheOthersMoreTheSoonerItIsSeen() {
        DayList list = morning().at(LocalTime.of(8, 58));
        List<Place> places = new ArrayList<>(list.places());
        for (int i = 0; i < 2; i++) {
            places.set(i, places.get(i).at(new Stage.Present(LocalTime.of(8, 50))));
        }
        Place walkIn = Place.fitIn("walk-in", LocalTime.of(8, 55), LogNormalMinutes.ofMoments(15, 5));
        CallInChoices choices = CallInChoices.of(list.withPlaces(places), walkIn, COSTS);

        assertThat(choices.seeNow().addedWaitMinutes())
                .isGreaterThan(choices.afterNext().addedWaitMinutes());
        assertThat(choices.afterNext().addedWaitMinutes()).isPositive();
        assertThat(choices.rebook().addedWaitMinutes()).isZero();
        assertThat(choices.seeNow().after().visit("walk-in").waitMinutes())
                .isLessThan(choices.afterNext().after().visit("walk-in").waitMinutes());
        assertThat(choices.seeNow().effects().get(0).addedWaitMinutes()).isCloseTo(15, within(1.0));
        assertThat(choices.seeNow().addedPastEnd()).isPositive();
    }
}
