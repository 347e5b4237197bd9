package org.earslot.visit;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
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

    private final Visit visit = Visit.booked(BookedVisits.bothEarsByHand(ClinicId.random(), UUID.randomUUID(), "V1"));

    @Test
    void says_what_was_written_of_its_day() {
        VisitTimes times = new VisitTimes(at(-4), at(7), at(40), at(42));
        ClockRecord record = new ClockRecord(times, Attendance.ATTENDED, 15, false);
        visit.write(record);
        assertThat(visit.clockRecord()).isEqualTo(record);
        assertThat(visit.times()).isEqualTo(times);
        assertThat(visit.timeInRoom()).contains(Duration.ofMinutes(18));
        assertThat(visit.wasSeen()).isTrue();
    }

    @Test
    void forgets_a_time_that_is_removed_but_never_that_one_was_entered_later() {
        visit.write(ClockRecords.corrected(at(0), at(20)));
        visit.write(new ClockRecord(new VisitTimes(null, at(0), null, null), null, null, false));
        assertThat(visit.finished()).isEmpty();
        assertThat(visit.attendance()).isEmpty();
        assertThat(visit.timesEnteredLater()).isTrue();
    }

    @Test
    void cannot_wait_outside_for_less_than_nothing_or_more_than_three_hours() {
        assertThat(new ClockRecord(VisitTimes.NONE, null, -1, false).minutesOutside())
                .isZero();
        assertThat(new ClockRecord(VisitTimes.NONE, null, 181, false).minutesOutside())
                .isEqualTo(180);
    }

    @Test
    void moved_before_it_began_copies_the_booking_again_and_keeps_its_reference_and_findings() {
        EarRecord right = new EarRecord(List.of(), new EarFindings(Wax.HARD, null, null, null), null, null);
        visit.recordFindings(Ear.RIGHT, right);
        BookedVisit other = BookedVisits.bothEarsByHand(visit.clinicId(), UUID.randomUUID(), "V2");
        visit.rebook(other);
        assertThat(visit.practitionerId()).isEqualTo(other.practitionerId());
        assertThat(visit.visitRef()).isEqualTo("V1");
        assertThat(visit.recorded(Ear.RIGHT)).isEqualTo(right);
        assertThat(visit.reported(Ear.RIGHT)).isEqualTo(other.reported(Ear.RIGHT));
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
