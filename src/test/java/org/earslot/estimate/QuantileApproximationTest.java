package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.earslot.duration.judge.Scores;
import org.earslot.minutes.EmpiricalMinutes;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class QuantileApproximationTest {

    /** The first three: closed form of the log-normal, as the reference numbers of this project give it. */
    @ParameterizedTest
    @CsvSource({
        "20, 2.8903717578961645, .35, 1.7389140971",
        "45, 2.995732273553991, .4, 18.8369746065",
        "3, .1, .9, 1.13552645"
    })
    void forecasts_score_as_the_whole_ones_do(double minutes, double meanLog, double sdLog, double crps) {
        LogNormalMinutes whole = new LogNormalMinutes(meanLog, sdLog);
        EmpiricalMinutes thinned = QuantileApproximation.thinned(whole);
        assertThat(thinned.size()).isEqualTo(QuantileApproximation.PARTS);
        assertThat(Scores.crps(thinned, minutes)).isCloseTo(crps, within(0.002 * crps));
        assertThat(thinned.quantile(0.75)).isCloseTo(whole.quantile(0.75), within(0.005 * whole.quantile(0.75)));
        assertThat(thinned.cdf(minutes)).isCloseTo(whole.cdf(minutes), within(0.003));
    }

    @Test
    void a_certain_time_stays_certain() {
        assertThat(QuantileApproximation.thinned(new FixedMinutes(12)).quantile(0.9))
                .isCloseTo(12, within(1e-9));
    }

    @Test
    void observed_times_stay_as_they_are() {
        EmpiricalMinutes times = EmpiricalMinutes.of(new double[] {1, 2, 3});
        assertThat(QuantileApproximation.thinned(times)).isSameAs(times);
    }
}
