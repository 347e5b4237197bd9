package org.earslot.clinic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.Mockito.mock;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.testing.SettableClock;
import org.junit.jupiter.api.Test;
import org.springframework.transaction.PlatformTransactionManager;

class RecentViewsTest {

    private static final ClinicId CLINIC = new ClinicId(new UUID(0, 1));

    private final SettableClock clock = new SettableClock(Instant.parse("2026-03-03T09:00:00Z"));
    private final List<Audited> entries = new ArrayList<>();
    private final RecentViews views = new RecentViews(
            event -> entries.add((Audited) event),
            new ClinicClock(clock, mock(Clinics.class)),
            mock(PlatformTransactionManager.class));

    @Test
    void a_screen_that_shows_itself_again_is_one_view() {
        seen(false, 1, 2);
        clock.advance(Duration.ofMinutes(29));
        seen(true, 1, 2);
        assertThat(entries).hasSize(1);
        seen(true, 1, 2, 3);
        assertThat(entries).hasSize(2);
        assertThat(entries.get(1).patients()).containsExactly(patient(3));
    }

    @Test
    void a_screen_left_open_is_written_again_after_half_an_hour() {
        seen(false, 1);
        clock.advance(RecentViews.ONE_VIEW.minusSeconds(1));
        seen(true, 1);
        assertThat(entries).hasSize(1);
        clock.advance(Duration.ofSeconds(1));
        seen(true, 1);
        assertThat(entries).hasSize(2);
    }

    @Test
    void a_page_opened_is_always_written_and_begins_the_half_hour_again() {
        seen(false, 1);
        clock.advance(Duration.ofMinutes(20));
        seen(false, 1);
        clock.advance(Duration.ofMinutes(20));
        seen(true, 1);
        assertThat(entries).hasSize(2);
    }

    @Test
    void holds_no_more_views_than_its_size() {
        int[] many = IntStream.range(0, RecentViews.MAXIMUM_SIZE + 1_000).toArray();
        seen(false, many);
        seen(true, many);
        assertThat(entries).hasSize(2);
        assertThat(entries.get(1).patients()).hasSizeBetween(1_000, many.length - 1);
    }

    private void seen(boolean again, int... patients) {
        views.seen(
                CLINIC,
                "lead",
                again,
                IntStream.of(patients).mapToObj(RecentViewsTest::patient).toList(),
                "day page");
    }

    private static UUID patient(int number) {
        return new UUID(2, number);
    }
}
