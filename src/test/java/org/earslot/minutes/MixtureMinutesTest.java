package org.earslot.minutes;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class MixtureMinutesTest {

    @Test
    void ofOneComponentIsThatLogNormal() {
        LogNormalMinutes alone = new LogNormalMinutes(2.9, 0.4);
        MixtureMinutes mixture =
                mixture(new double[] {1}, new double[] {2.9}, new double[] {0.4}, ProbabilityMap.IDENTITY);
        assertThat(mixture.mean()).isCloseTo(alone.mean(), within(1e-6 * alone.mean()));
        assertThat(mixture.standardDeviation()).isCloseTo(alone.standardDeviation(), within(1e-4));
        for (double p = 0.01; p < 1; p += 0.01) {
            assertThat(mixture.quantile(p)).isCloseTo(alone.quantile(p), within(1e-10 * alone.quantile(p)));
        }
    }

    @Test
    void invertsItsOwnCdfThroughTheMap() {
        ProbabilityMap map = new ProbabilityMap(new double[] {0, 0.3, 0.8, 1}, new double[] {0, 0.2, 0.85, 1});
        MixtureMinutes mixture =
                mixture(new double[] {0.7, 0.2, 0.1}, new double[] {2, 3, 3.5}, new double[] {0.2, 0.1, 0.7}, map);
        double before = 0;
        for (double p = 0.001; p < 1; p += 0.001) {
            double time = mixture.quantile(p);
            assertThat(time).isGreaterThan(before);
            assertThat(mixture.cdf(time)).isCloseTo(p, within(1e-10));
            before = time;
        }
    }

    private static MixtureMinutes mixture(double[] weights, double[] means, double[] sds, ProbabilityMap map) {
        return new MixtureMinutes(weights, means, sds, map);
    }
}
