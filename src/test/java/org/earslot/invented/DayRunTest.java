package org.earslot.invented;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.junit.jupiter.api.Test;

class DayRunTest {

    @Test
    void followsAListByHand() {
        List<InventedVisit> visits = List.of(
                visit(true, 5, 22, 99, 3), // 9:00 in at 9:00, ready 9:25
                visit(false, 5, 22, 99, 3), // absent
                visit(true, 4, 30, 12, 3), // 9:40, called early at 9:36, stopped after 12, ready 9:51
                visit(true, -6, 20, 99, 4)); // 10:00, comes at 10:06, ready 10:30
        DayRun run = DayRun.of(visits, new int[] {540, 560, 580, 600}, 540, 620);

        assertThat(run.waits()).containsExactly(0.0, 0.0, 0.0);
        assertThat(run.idle()).isCloseTo(11 + 15, within(1e-9));
        assertThat(run.overtime()).isCloseTo(10, within(1e-9));
    }

    @Test
    void letsTheNextWaitForTheOneBefore() {
        List<InventedVisit> visits = List.of(visit(true, 0, 40, 99, 5), visit(true, 10, 20, 99, 5));
        DayRun run = DayRun.of(visits, new int[] {540, 560}, 540, 600);

        assertThat(run.waits()).containsExactly(0.0, 25.0);
        assertThat(run.meanWait()).isEqualTo(12.5);
        assertThat(run.overtime()).isEqualTo(10);
    }

    @Test
    void runsInventedSessionsOfOrdinaryLength() {
        for (InventedSession session : InventedClinic.of(9, 2, 400).sessions()) {
            DayRun run = DayRun.asBooked(session);

            assertThat(session.visits()).hasSizeBetween(10, 14);
            assertThat(run.waits()).hasSize((int) session.visits().stream()
                    .filter(visit -> visit.truth().attends())
                    .count());
            assertThat(run.idle()).isGreaterThanOrEqualTo(0);
        }
    }

    private static InventedVisit visit(
            boolean attends, double earliness, double completion, double stop, double turnaround) {
        return new InventedVisit(
                new InventedVisit.Told(
                        1,
                        1,
                        LocalDate.of(2024, 1, 8),
                        0,
                        0,
                        Method.MICROSUCTION,
                        Ears.RIGHT,
                        true,
                        false,
                        Set.of(),
                        0,
                        Map.of(),
                        540,
                        20),
                new InventedVisit.Kept(
                        Attendance.ATTENDED, Map.of(), Map.of(), null, null, null, null, StoppedEarly.NO, Map.of()),
                new InventedVisit.Truth(attends, earliness, completion, stop, turnaround));
    }
}
