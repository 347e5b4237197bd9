package org.earslot.visit;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.junit.jupiter.api.Test;

class VisitTest {

    private static final Instant NINE = Instant.parse("2026-03-03T09:00:00Z");

    private final Visit visit = Visit.booked(BookedVisits.bothEarsByHand(UUID.randomUUID(), UUID.randomUUID(), "V1"));

    @Test
    void runs_from_arrival_to_room_ready() {
        assertThat(visit.arrive(at(-4))).isEmpty();
        assertThat(visit.callIn(at(7))).isEmpty();
        assertThat(visit.attendance()).isEmpty();
        assertThat(visit.finish(at(40))).isEmpty();
        assertThat(visit.makeRoomReady(at(42))).isEmpty();
        assertThat(visit.times()).isEqualTo(new VisitTimes(at(-4), at(7), at(40), at(42)));
        assertThat(visit.timeInRoom()).contains(Duration.ofMinutes(33));
        assertThat(visit.attendance()).contains(Attendance.ATTENDED);
        assertThat(visit.timesEnteredLater()).isFalse();
    }

    @Test
    void takes_a_second_press_at_the_same_time_as_one_and_refuses_another_time() {
        visit.callIn(at(0));
        assertThat(visit.callIn(at(0))).isEmpty();
        assertThat(visit.callIn(at(5))).contains(VisitRefusal.ALREADY_RECORDED);
        assertThat(visit.calledIn()).contains(at(0));
    }

    @Test
    void refuses_times_out_of_order_and_stays_as_it_was() {
        assertThat(visit.finish(at(10))).contains(VisitRefusal.NOT_CALLED_IN);
        assertThat(visit.makeRoomReady(at(10))).contains(VisitRefusal.NOT_FINISHED);
        visit.arrive(at(5));
        assertThat(visit.callIn(at(4))).contains(VisitRefusal.CALLED_IN_BEFORE_ARRIVED);
        visit.callIn(at(5));
        assertThat(visit.finish(at(5))).contains(VisitRefusal.FINISHED_NOT_AFTER_CALLED_IN);
        assertThat(visit.finish(at(5 + 181))).contains(VisitRefusal.SPAN_OUT_OF_REASON);
        assertThat(visit.finished()).isEmpty();
        assertThat(visit.finish(at(5 + 180))).isEmpty();
        assertThat(visit.makeRoomReady(at(100))).contains(VisitRefusal.READY_BEFORE_FINISHED);
        assertThat(visit.roomReady()).isEmpty();
    }

    @Test
    void of_a_patient_who_was_called_in_cannot_be_missed() {
        visit.callIn(at(0));
        assertThat(visit.attended(Attendance.DID_NOT_ATTEND)).contains(VisitRefusal.WAS_CALLED_IN);
        assertThat(visit.attended(Attendance.ATTENDED_LATE)).isEmpty();
        visit.finish(at(20));
        assertThat(visit.attendance()).contains(Attendance.ATTENDED_LATE);
    }

    @Test
    void of_a_patient_who_did_not_attend_is_not_called_in() {
        visit.attended(Attendance.DID_NOT_ATTEND);
        assertThat(visit.callIn(at(0))).contains(VisitRefusal.NOT_SEEN);
    }

    @Test
    void with_mended_times_is_marked() {
        visit.callIn(at(0));
        visit.finish(at(20));
        assertThat(visit.mendTimes(new VisitTimes(null, at(2), at(1), null)))
                .contains(VisitRefusal.FINISHED_NOT_AFTER_CALLED_IN);
        assertThat(visit.timesEnteredLater()).isFalse();
        assertThat(visit.mendTimes(new VisitTimes(null, at(2), at(22), null))).isEmpty();
        assertThat(visit.timesEnteredLater()).isTrue();
        assertThat(visit.calledIn()).contains(at(2));
    }

    @Test
    void keeps_findings_of_each_ear_apart() {
        EarRecord right = new EarRecord(
                List.of(Method.MICROSUCTION, Method.MANUAL_REMOVAL),
                new EarFindings(Wax.HARD, null, null, null),
                Outcome.RESIDUAL,
                AdverseEvent.NONE);
        visit.recordFindings(Ear.RIGHT, right);
        visit.stop(StoppedEarly.COMFORT);
        visit.note("  rang back ");
        assertThat(visit.recorded(Ear.RIGHT)).isEqualTo(right);
        assertThat(visit.recorded(Ear.LEFT)).isEqualTo(EarRecord.EMPTY);
        assertThat(visit.reported(Ear.RIGHT)).isEqualTo(new EarFindings(Wax.STICKY, Canal.NARROW, null, null));
        assertThat(visit.cautions()).containsExactlyInAnyOrder(Caution.TINNITUS, Caution.DIABETES);
        assertThat(visit.note()).contains("rang back");
        assertThat(visit.stoppedEarly()).contains(StoppedEarly.COMFORT);
    }

    private static Instant at(int minutes) {
        return NINE.plusSeconds(60L * minutes);
    }
}
