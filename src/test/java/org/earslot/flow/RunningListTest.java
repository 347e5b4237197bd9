package org.earslot.flow;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.list.Stage;
import org.earslot.flow.run.Projection;
import org.earslot.flow.run.ProjectionTest;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

/** Two rooms, a patient called in twice, and a list under way. */
class RunningListTest {

    private static final LocalTime NINE = LocalTime.of(9, 0);

    private static Place visit(String name, LocalTime at, double mean, double sd) {
        return Place.booked(name, at, 20, LogNormalMinutes.ofMoments(mean, sd))
                .withTurnaround(LogNormalMinutes.ofMoments(6, 2));
    }

    private static List<Place> morning() {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            places.add(visit("v" + i, NINE.plusMinutes(20L * i), 14 + 2 * (i % 3), 5 + i % 2));
        }
        return places;
    }

    @Test
    void twoRoomsAgreeWithDraws() {
        List<Place> places = new ArrayList<>();
        String[] rooms = {"A", "B", "A", "B", "B", "A", "B", "A"};
        for (int i = 0; i < 8; i++) {
            places.add(visit("v" + i, NINE.plusMinutes(12L * i), 8 + i % 3, 4)
                    .inRoom(rooms[i])
                    .withTurnaround(LogNormalMinutes.ofMoments(9, 3))
                    .withAttendance(0.08, new Arrivals(20, LogNormalMinutes.ofMoments(14, 7))));
        }
        Session session = new Session(
                NINE, LocalTime.of(10, 45), List.of(new Break(LocalTime.of(9, 40), LocalTime.of(9, 45), 3)));
        ProjectionTest.agrees(new DayList(session, places, 5, 0.16, null), 11, 0.5);
    }

    @Test
    void aPatientCalledInTwiceAgreesWithDraws() {
        List<Place> places = morning();
        places.add(
                2,
                Place.calledAgain("v0 again", "v0", 15, LogNormalMinutes.ofMoments(7, 2))
                        .withTurnaround(new FixedMinutes(2)));
        places.add(6, Place.calledAgain("v3 again", "v3", 25, LogNormalMinutes.ofMoments(7, 2)));
        ProjectionTest.agrees(new DayList(Session.between(NINE, LocalTime.of(12, 0)), places, 5, 0.16, null), 12);
    }

    @Test
    void aListUnderWayAgreesWithDraws() {
        List<Place> places = morning();
        places.set(0, places.get(0).at(finished(9, 1, 9, 27, 9, 33)));
        places.set(1, places.get(1).at(finished(9, 33, 9, 58, 10, 3)));
        places.set(2, places.get(2).at(new Stage.InRoom(LocalTime.of(9, 30), LocalTime.of(10, 4))));
        places.set(4, places.get(4).at(new Stage.Present(LocalTime.of(10, 5))));
        for (int i : new int[] {3, 5, 6, 7}) {
            places.set(i, places.get(i).withAttendance(0.1, new Arrivals(30, LogNormalMinutes.ofMoments(22, 8))));
        }
        places.add(4, Place.fitIn("fit-in", LocalTime.of(10, 2), LogNormalMinutes.ofMoments(12, 5)));
        Session session = Session.between(NINE, LocalTime.of(12, 0));
        DayList list = new DayList(session, places, 5, 0.16, LocalTime.of(10, 14));
        ProjectionTest.agrees(list, 13);
    }

    private static Stage finished(int h0, int m0, int h1, int m1, int h2, int m2) {
        return new Stage.Finished(LocalTime.of(9, 0), LocalTime.of(h0, m0), LocalTime.of(h1, m1), LocalTime.of(h2, m2));
    }

    @Test
    void finishedVisitsStandAsTheyWere() {
        List<Place> places = morning();
        places.set(0, places.get(0).at(finished(9, 5, 9, 30, 9, 36)));
        Session session = Session.between(NINE, LocalTime.of(12, 0));
        DayList list = new DayList(session, places.subList(0, 2), 0, 0, LocalTime.of(9, 40));
        Projection projection = Projection.of(list);

        Projection.Visit over = projection.visit("v0");
        assertThat(over.waitMinutes()).isEqualTo(5);
        assertThat(over.longWait()).isZero();
        assertThat(over.pastSlot()).isOne();
        assertThat(over.finishes().median()).isEqualTo(LocalTime.of(9, 30));
        assertThat(projection.visit("v1").starts().median()).isEqualTo(LocalTime.of(9, 40));
        assertThat(projection.visit("v1").waitMinutes()).isEqualTo(20);
        assertThat(projection.visit("v1").longWait()).isOne();
    }

    @Test
    void whoIsLateDoesNotHoldTheChair() {
        List<Place> places = morning().subList(0, 3);
        places.set(1, places.get(1).at(new Stage.Present(LocalTime.of(9, 10))));
        DayList list = DayList.planned(Session.between(NINE, LocalTime.of(12, 0)), places)
                .at(LocalTime.of(9, 15));
        assertThat(list.order()).containsExactly(1, 0, 2);
        assertThat(list.at(LocalTime.of(8, 59)).order()).containsExactly(0, 1, 2);
    }

    @Test
    void slowVisitsSoFarPushTheRestBack() {
        List<Place> quick = morning();
        List<Place> slow = morning();
        quick.set(0, quick.get(0).at(finished(9, 0, 9, 9, 9, 15)));
        slow.set(0, slow.get(0).at(finished(9, 0, 9, 30, 9, 36)));
        Session session = Session.between(NINE, LocalTime.of(12, 0));
        DayList afterQuick = new DayList(session, quick, 0, 0.16, LocalTime.of(9, 40));
        DayList afterSlow = new DayList(session, slow, 0, 0.16, LocalTime.of(9, 40));
        double gap = Projection.of(afterSlow).overtimeMinutes()
                - Projection.of(afterQuick).overtimeMinutes();
        assertThat(gap).isPositive();
        double ignoring = Projection.of(afterSlow.withCommonSd(0)).overtimeMinutes()
                - Projection.of(afterQuick.withCommonSd(0)).overtimeMinutes();
        assertThat(ignoring).isCloseTo(0, within(1e-9));
    }
}
