package org.earslot.minutes;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

class EmpiricalMinutesTest {

    @Test
    void stepsAtEachTime() {
        EmpiricalMinutes minutes = EmpiricalMinutes.of(new double[] {30, 10, 20, 20});

        assertThat(minutes.cdf(9.99)).isZero();
        assertThat(minutes.cdf(10)).isEqualTo(0.25);
        assertThat(minutes.cdf(20)).isEqualTo(0.75);
        assertThat(minutes.cdf(1000)).isEqualTo(1);
        assertThat(minutes.quantile(0.25)).isEqualTo(10);
        assertThat(minutes.quantile(0.26)).isEqualTo(20);
        assertThat(minutes.quantile(0.76)).isEqualTo(30);
        assertThat(minutes.mean()).isEqualTo(20);
        assertThat(minutes.standardDeviation()).isCloseTo(Math.sqrt(50), within(1e-12));
        assertThat(minutes.meanBelow(25)).isCloseTo((15 + 5 + 5) / 4.0, within(1e-12));
    }

    @Test
    void takesAWeightOfTwoAsTheTimeTwice() {
        EmpiricalMinutes weighted = EmpiricalMinutes.of(new double[] {8, 12, 40}, new double[] {1, 2, 1});
        EmpiricalMinutes repeated = EmpiricalMinutes.of(new double[] {8, 12, 12, 40});

        for (double probability = 0.05; probability < 1; probability += 0.05) {
            assertThat(weighted.quantile(probability)).isEqualTo(repeated.quantile(probability));
        }
        assertThat(weighted.standardDeviation()).isCloseTo(repeated.standardDeviation(), within(1e-12));
    }

    @Test
    void givesTheSmallestTimeThatReachesAProbability() {
        long seed = 4711;
        Random random = new Random(seed);
        for (int round = 0; round < 200; round++) {
            double[] times = random.doubles(1 + random.nextInt(20), 1, 60).toArray();
            EmpiricalMinutes minutes = EmpiricalMinutes.of(times);
            double probability = 0.001 + 0.998 * random.nextDouble();
            double quantile = minutes.quantile(probability);

            assertThat(minutes.cdf(quantile)).as("seed %d", seed).isGreaterThanOrEqualTo(probability);
            assertThat(minutes.cdf(Math.nextDown(quantile))).as("seed %d", seed).isLessThan(probability);
        }
    }

    @Test
    void refusesWhatIsNoTable() {
        assertThatThrownBy(() -> EmpiricalMinutes.of(new double[0])).hasMessageContaining("at least one time");
        assertThatThrownBy(() -> EmpiricalMinutes.of(new double[] {Double.NaN})).hasMessageContaining("NaN");
        assertThatThrownBy(() -> EmpiricalMinutes.of(new double[] {5}, new double[] {0}))
                .hasMessageContaining("at least one above 0");
    }
}
