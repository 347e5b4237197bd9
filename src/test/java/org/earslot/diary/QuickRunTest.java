package org.earslot.diary;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.earslot.diary.QuickRun.Stop;
import org.junit.jupiter.api.Test;

/** The quick pass: exact where times are certain, close to plain draws where they are not. */
class QuickRunTest {

    @Test
    void certain_times_give_exact_waits() {
        QuickRun run = QuickRun.of(List.of(new Stop(540, 25, 0), new Stop(560, 10, 0), new Stop(600, 30, 0)), 540, 625);
        assertThat(run.waits()).containsExactly(0, 5, 0);
        assertThat(run.lateEnd()).isEqualTo(1);
        assertThat(run.totalWait()).isEqualTo(5);
    }

    @Test
    void empty_list_never_ends_late() {
        assertThat(QuickRun.of(List.of(), 540, 600).lateEnd()).isZero();
    }

    @Test
    void first_visit_booked_before_the_session_waits_for_it() {
        assertThat(QuickRun.of(List.of(new Stop(535, 10, 4)), 540, 600).waits()).containsExactly(5);
    }

    @Test
    void waits_of_normal_times_agree_with_plain_draws() {
        List<Stop> stops =
                List.of(new Stop(540, 20, 36), new Stop(560, 24, 64), new Stop(580, 18, 25), new Stop(605, 22, 49));
        double[] drawn = new double[4];
        int late = 0;
        int draws = 200_000;
        Random random = new Random(20260303);
        for (int k = 0; k < draws; k++) {
            double free = 540;
            for (int i = 0; i < 4; i++) {
                Stop stop = stops.get(i);
                double starts = Math.max(free, stop.start());
                drawn[i] += (starts - stop.start()) / draws;
                free = starts + stop.mean() + Math.sqrt(stop.variance()) * random.nextGaussian();
            }
            late += free > 630 ? 1 : 0;
        }
        QuickRun run = QuickRun.of(stops, 540, 630);
        for (int i = 0; i < 4; i++) {
            // The approximation takes the free time as normal; on such lists it stays within a quarter of a minute.
            assertThat(run.waits()[i]).isCloseTo(drawn[i], within(0.25));
        }
        // A sum cut off from below leans right; the normal form is a few in a hundred high in the middle.
        assertThat(run.lateEnd()).isCloseTo(late / (double) draws, within(0.05));
    }
}
