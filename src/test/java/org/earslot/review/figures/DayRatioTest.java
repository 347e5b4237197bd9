package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class DayRatioTest {

    private static final double[] WAITS = {12, 40, 8, 22, 60, 5, 31, 18, 27, 44};
    private static final int[] VISITS = {4, 8, 5, 6, 9, 3, 7, 6, 6, 8};

    @Test
    void has_the_variance_of_a_cluster_sample() {
        // reference/shares.R: y <- c(12, 40, 8, 22, 60, 5, 31, 18, 27, 44); n <- c(4, 8, 5, 6, 9, 3, 7, 6, 6, 8)
        // r <- sum(y) / sum(n); 10 / 9 * sum((y - r * n)^2) / sum(n)^2
        double[] expected = Reference.of("shares").values("day_ratio");
        DayRatio ratio = DayRatio.of(days(1), MonthTotals::waitSum, MonthTotals::waits);
        assertThat(ratio.value()).isCloseTo(expected[0], within(1e-12));
        assertThat(ratio.variance()).isCloseTo(expected[1], within(1e-12));
        assertThat(ratio.days()).isEqualTo(10);
    }

    @Test
    void tells_a_clear_change_from_an_unclear_one() {
        DayRatio now = DayRatio.of(days(1), MonthTotals::waitSum, MonthTotals::waits);
        DayRatio thrice = DayRatio.of(days(3), MonthTotals::waitSum, MonthTotals::waits);
        assertThat(thrice.since(now).verdict()).isEqualTo(Change.Verdict.MORE);
        assertThat(now.since(thrice).verdict()).isEqualTo(Change.Verdict.LESS);
        assertThat(now.since(now).verdict()).isEqualTo(Change.Verdict.NOT_CLEAR);
        assertThat(now.since(now).by()).isZero();
    }

    @Test
    void compares_nothing_on_few_days() {
        DayRatio now = DayRatio.of(days(1), MonthTotals::waitSum, MonthTotals::waits);
        DayRatio few = DayRatio.of(days(1).subList(0, 7), MonthTotals::waitSum, MonthTotals::waits);
        DayRatio none = DayRatio.of(List.of(), MonthTotals::waitSum, MonthTotals::waits);
        assertThat(now.since(few)).isEqualTo(Change.NOT_KNOWN);
        assertThat(now.since(none)).isEqualTo(Change.NOT_KNOWN);
    }

    private static List<DayFigures> days(int times) {
        List<DayFigures> days = new ArrayList<>();
        for (int i = 0; i < WAITS.length; i++) {
            MonthTotals figures =
                    new MonthTotals(VISITS[i], 0, 0, VISITS[i], times * WAITS[i], 0, VISITS[i], 0, 0, 0, 0, 0, 0, 0, 0);
            days.add(new DayFigures(LocalDate.of(2026, 3, 2).plusDays(i), figures));
        }
        return days;
    }
}
