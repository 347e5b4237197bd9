package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.earslot.review.figures.RunChart.Signal;
import org.earslot.review.figures.RunChart.Week;
import org.junit.jupiter.api.Test;

class RunChartTest {

    private static final LocalDate MONDAY = LocalDate.of(2026, 1, 5);

    @Test
    void has_the_limits_of_the_handbooks_wafers_as_shares() {
        // NIST/SEMATECH e-Handbook 6.3.3.2: 30 wafers of 50 chips; the mean share .2313 is as printed there, the counts
        // and the printed limits .0524 and .4102 are from memory; the sum of the counts gives the printed mean.
        int[] counts = {
            12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6
        };
        List<Week> weeks = new ArrayList<>();
        for (int i = 0; i < counts.length; i++) {
            weeks.add(new Week(MONDAY.plusWeeks(i), counts[i], 50));
        }
        RunChart chart = RunChart.ofShares(weeks);
        assertThat(chart.centre()).isCloseTo(0.2313, within(5e-5));
        assertThat(chart.points().get(0).low()).isCloseTo(0.0524, within(5e-5));
        assertThat(chart.points().get(0).high()).isCloseTo(0.4102, within(5e-5));
        // 22 and 24 of 50 lie above.
        assertThat(chart.signals())
                .containsExactly(
                        new Signal("above", MONDAY.plusWeeks(14), MONDAY.plusWeeks(14)),
                        new Signal("above", MONDAY.plusWeeks(22), MONDAY.plusWeeks(22)));
    }

    @Test
    void has_the_limits_of_the_handbooks_flow_rates_as_single_values() {
        // NIST/SEMATECH e-Handbook 6.3.2.2 (from memory): ten flow rates, mean 50.81, mean moving range 1.8778,
        // limits 55.8041 and 45.8159.
        double[] rates = {49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
        List<Week> weeks = new ArrayList<>();
        for (int i = 0; i < rates.length; i++) {
            weeks.add(new Week(MONDAY.plusWeeks(i), rates[i], 1));
        }
        RunChart chart = RunChart.ofMeans(weeks);
        assertThat(chart.centre()).isCloseTo(50.81, within(1e-9));
        assertThat(chart.points().get(0).high()).isCloseTo(55.8041, within(5e-4));
        assertThat(chart.points().get(0).low()).isCloseTo(45.8159, within(5e-4));
        assertThat(chart.signals()).isEmpty();
    }

    @Test
    void widens_the_limits_of_weeks_with_few_visits_within_0_and_1() {
        RunChart chart = RunChart.ofShares(List.of(new Week(MONDAY, 1, 2), new Week(MONDAY.plusWeeks(1), 49, 98)));
        assertThat(chart.points().get(0).low()).isZero();
        assertThat(chart.points().get(0).high()).isEqualTo(1);
        assertThat(chart.points().get(1).high()).isCloseTo(0.5 + 3 * Math.sqrt(0.25 / 98), within(1e-12));
    }

    @Test
    void says_where_eight_weeks_in_a_row_lie_on_one_side() {
        List<Week> weeks = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            weeks.add(new Week(MONDAY.plusWeeks(i), i < 12 ? 40 : 60, 100));
        }
        weeks.set(15, new Week(MONDAY.plusWeeks(15), 40, 100));
        RunChart chart = RunChart.ofShares(weeks);
        assertThat(chart.signals()).containsExactly(new Signal("run_below", MONDAY, MONDAY.plusWeeks(11)));
    }

    @Test
    void is_empty_without_weeks() {
        assertThat(RunChart.ofShares(List.of()).points()).isEmpty();
        assertThat(RunChart.ofMeans(List.of()).points()).isEmpty();
        assertThat(RunChart.ofMeans(List.of(new Week(MONDAY, 6, 2)))
                        .points()
                        .get(0)
                        .value())
                .isEqualTo(3);
    }
}
