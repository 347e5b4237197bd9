package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class WeeksToAppointmentTest {

    /** Made by reference/medians.R; versions and calls in medians.txt. */
    private static final Reference R = Reference.of("medians");

    @Test
    void lies_between_the_order_statistics_that_r_names() {
        for (int n : new int[] {5, 6, 20, 57, 400}) {
            List<Integer> days = IntStream.rangeClosed(1, n).boxed().toList();
            WeeksToAppointment weeks = WeeksToAppointment.of(days);
            // qbinom(0.025, n, 0.5), the rank of the lower end; 0 where there is none
            int rank = (int) R.value("rank." + n);
            assertThat(weeks.referrals()).isEqualTo(n);
            assertThat(weeks.median()).isCloseTo((n + 1) / 2.0 / 7, within(1e-12));
            if (rank == 0) {
                assertThat(weeks.low()).isNull();
                assertThat(weeks.high()).isNull();
            } else {
                assertThat(weeks.low()).isCloseTo(rank / 7.0, within(1e-12));
                assertThat(weeks.high()).isCloseTo((n + 1 - rank) / 7.0, within(1e-12));
            }
        }
    }

    @Test
    void stays_sound_for_more_referrals_than_a_power_of_two_holds() {
        List<Integer> days = IntStream.rangeClosed(1, 20_000).boxed().toList();
        int rank = (int) R.value("rank.20000");
        assertThat(WeeksToAppointment.of(days).low()).isCloseTo(rank / 7.0, within(1e-12));
    }

    @Test
    void is_clearly_longer_only_where_the_range_of_the_difference_leaves_out_nothing() {
        WeeksToAppointment before = WeeksToAppointment.of(around(14));
        WeeksToAppointment now = WeeksToAppointment.of(around(28));
        Change change = now.since(before);
        assertThat(change.by()).isCloseTo(2, within(1e-12));
        assertThat(change.verdict()).isEqualTo(Change.Verdict.MORE);
        assertThat(before.since(now).verdict()).isEqualTo(Change.Verdict.LESS);
        assertThat(before.since(before).verdict()).isEqualTo(Change.Verdict.NOT_CLEAR);
    }

    @Test
    void says_nothing_of_too_few_referrals() {
        WeeksToAppointment few = WeeksToAppointment.of(List.of(7, 14));
        assertThat(few.median()).isEqualTo(1.5);
        assertThat(few.low()).isNull();
        assertThat(WeeksToAppointment.of(around(14)).since(few)).isEqualTo(Change.NOT_KNOWN);
        assertThat(WeeksToAppointment.of(List.of())).isEqualTo(WeeksToAppointment.NONE);
    }

    private static List<Integer> around(int days) {
        List<Integer> all = new ArrayList<>();
        for (int i = 0; i < 41; i++) {
            all.add(days - 10 + i / 2);
        }
        return all;
    }
}
