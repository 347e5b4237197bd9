package org.earslot.visit;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class VisitTimesTest {

    private static final Instant NINE = Instant.parse("2026-03-03T09:00:00Z");

    @Test
    void follow_each_other_with_called_in_strictly_before_finished() {
        assertThat(times(-4, 7, 40, 42).inOrder()).isTrue();
        assertThat(times(7, 7, 40, 40).inOrder()).isTrue();
        assertThat(times(8, 7, null, null).inOrder()).isFalse();
        assertThat(times(8, null, 7, null).inOrder()).isFalse();
        assertThat(times(null, 7, 7, null).inOrder()).isFalse();
        assertThat(times(null, 7, 40, 39).inOrder()).isFalse();
        assertThat(VisitTimes.NONE.inOrder()).isTrue();
    }

    @Test
    void have_a_gap_if_a_later_one_lacks_the_one_it_needs() {
        assertThat(times(null, 7, 40, 42).hasGap()).isFalse();
        assertThat(times(-4, null, 40, null).hasGap()).isTrue();
        assertThat(times(-4, 7, null, 42).hasGap()).isTrue();
    }

    @Test
    void are_implausible_if_more_than_three_hours_lie_between_two() {
        assertThat(times(-200, 0, 180, 360).hasImplausibleSpan()).isFalse();
        assertThat(times(null, 0, 181, null).hasImplausibleSpan()).isTrue();
        assertThat(times(null, 0, 10, 191).hasImplausibleSpan()).isTrue();
        assertThat(times(null, 0, null, 400).hasImplausibleSpan()).isFalse();
    }

    private static VisitTimes times(
            @Nullable Integer arrived,
            @Nullable Integer calledIn,
            @Nullable Integer finished,
            @Nullable Integer roomReady) {
        return new VisitTimes(at(arrived), at(calledIn), at(finished), at(roomReady));
    }

    private static @Nullable Instant at(@Nullable Integer minutes) {
        return minutes == null ? null : NINE.plusSeconds(60L * minutes);
    }
}
