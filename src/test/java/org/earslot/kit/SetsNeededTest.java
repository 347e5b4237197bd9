package org.earslot.kit;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalTime;
import java.util.List;
import java.util.stream.IntStream;
import org.earslot.kit.SetsNeeded.Need;
import org.earslot.kit.SetsNeeded.Visit;
import org.junit.jupiter.api.Test;

/** Worked out by hand, with paper and pencil. */
class SetsNeededTest {

    @Test
    void has_enough_where_every_visit_has_a_set_of_its_own() {
        assertThat(SetsNeeded.of(3, 60, 0, halfHours(3))).isEqualTo(new Need(0, null, null));
        assertThat(SetsNeeded.of(0, 60, 0, List.of())).isEqualTo(new Need(0, null, null));
    }

    /** Two sets, half-hour visits from 9:00: the first is dirty at 9:30, in a cycle of 20 min until 9:50, for 10:00. */
    @Test
    void goes_round_with_two_sets_where_the_cycle_is_quick() {
        assertThat(SetsNeeded.of(2, 20, 0, halfHours(8))).isEqualTo(new Need(0, null, null));
    }

    /** The same with a cycle of 45 min: the first set is clean at 10:15, the visit of 10:00 is short. */
    @Test
    void falls_short_where_the_cycle_takes_longer_than_the_turn() {
        assertThat(SetsNeeded.of(2, 45, 0, halfHours(3)))
                .isEqualTo(new Need(1, LocalTime.of(10, 0), LocalTime.of(10, 15)));
    }

    /** A test cycle until 10:00 keeps the first cycle back: dirty at 9:30, begun 10:00, clean 10:20. */
    @Test
    void waits_for_the_test_cycle_first_thing() {
        assertThat(SetsNeeded.of(2, 20, 10 * 60, halfHours(3)))
                .isEqualTo(new Need(1, LocalTime.of(10, 0), LocalTime.of(10, 20)));
    }

    /** No set at all: each visit is short and none ever comes clean. */
    @Test
    void says_so_where_no_set_comes_clean() {
        assertThat(SetsNeeded.of(0, 20, 0, halfHours(2))).isEqualTo(new Need(2, LocalTime.of(9, 0), null));
    }

    /** All dirty ones go in together: two soiled at 9:30 with one machine are both clean at 10:00 after 30 min. */
    @Test
    void puts_all_dirty_sets_into_one_cycle() {
        List<Visit> visits =
                List.of(new Visit(540, 570), new Visit(540, 570), new Visit(600, 630), new Visit(600, 630));
        assertThat(SetsNeeded.of(2, 30, 0, visits)).isEqualTo(new Need(0, null, null));
    }

    private static List<Visit> halfHours(int count) {
        return IntStream.range(0, count)
                .mapToObj(i -> new Visit(540 + 30 * i, 570 + 30 * i))
                .toList();
    }
}
