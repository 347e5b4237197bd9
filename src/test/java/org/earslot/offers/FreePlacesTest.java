package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.junit.jupiter.api.Test;

/** First and last start of each free stretch, on the grid, clear of the break. */
class FreePlacesTest {

    private static final TimeSpan ALL_DAY = span("00:00", "23:59");

    @Test
    void an_empty_session_offers_both_ends_of_each_half() {
        assertThat(starts(List.of(), ALL_DAY, 30, 5))
                .containsExactly(at("09:00"), at("12:30"), at("13:30"), at("16:30"));
    }

    @Test
    void a_slot_that_fits_exactly_is_offered_once() {
        List<TimeSpan> taken = List.of(span("09:00", "10:00"), span("10:30", "13:00"), span("13:30", "17:00"));
        assertThat(starts(taken, ALL_DAY, 30, 5)).containsExactly(at("10:00"));
        assertThat(starts(taken, ALL_DAY, 35, 5)).isEmpty();
    }

    @Test
    void starts_lie_on_the_grid_inside_the_free_stretch() {
        List<TimeSpan> taken = List.of(span("09:00", "10:07"), span("11:03", "13:00"), span("13:30", "17:00"));
        assertThat(starts(taken, ALL_DAY, 20, 10)).containsExactly(at("10:10"), at("10:40"));
    }

    @Test
    void the_window_narrows_the_starts_but_not_the_ends() {
        assertThat(starts(List.of(), span("11:31", "12:00"), 60, 5)).containsExactly(at("11:35"), at("11:55"));
    }

    @Test
    void overlapping_bookings_of_practitioner_and_room_count_together() {
        List<TimeSpan> taken = List.of(span("08:00", "12:00"), span("09:30", "10:00"), span("13:30", "18:00"));
        assertThat(starts(taken, ALL_DAY, 30, 5)).containsExactly(at("12:00"), at("12:30"));
    }

    private static List<LocalTime> starts(List<TimeSpan> taken, TimeSpan window, int slot, int grid) {
        ClinicSession session = new ClinicSession(
                UUID.randomUUID(),
                UUID.randomUUID(),
                UUID.randomUUID(),
                LocalDate.of(2026, 3, 4),
                span("09:00", "17:00"),
                Optional.of(span("13:00", "13:30")));
        return FreePlaces.starts(session, taken, window, slot, grid);
    }

    private static TimeSpan span(String from, String to) {
        return new TimeSpan(at(from), at(to));
    }

    private static LocalTime at(String time) {
        return LocalTime.parse(time);
    }
}
