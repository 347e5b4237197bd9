package org.earslot.minutes;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.earslot.reference.Reference;
import org.hipparchus.special.Erf;
import org.junit.jupiter.api.Test;

class NormalTest {

    /** Hipparchus 4.0.2, Erf.erfc. */
    @Test
    void agreesWithHipparchusInBothTails() {
        for (double z = -9; z <= 9; z += 0.0137) {
            double expected = 0.5 * Erf.erfc(-z / Math.sqrt(2));
            assertThat(Normal.cdf(z)).as("cdf(%s)", z).isCloseTo(expected, within(2e-13 * expected));
            double upper = 0.5 * Erf.erfc(z / Math.sqrt(2));
            assertThat(Normal.logUpper(z)).as("log upper(%s)", z).isCloseTo(Math.log(upper), within(1e-12));
        }
    }

    @Test
    void invertsItsOwnCdf() {
        for (double p = 1e-6; p < 1; p += 0.000917) {
            assertThat(Normal.cdf(Normal.quantile(p))).isCloseTo(p, within(1e-14));
        }
        // qnorm(0.9), qnorm(1e-9): reference/distributions.R
        double[] quantiles = Reference.of("distributions").values("normal.quantiles");
        assertThat(Normal.quantile(0.9)).isCloseTo(quantiles[0], within(1e-14));
        assertThat(Normal.quantile(1e-9)).isCloseTo(quantiles[1], within(1e-11));
    }

    @Test
    void hazardStaysFiniteFarOut() {
        // Asymptotic series of the Mills ratio: z + 1/z - 2/z^3 + 10/z^5.
        double z = 40;
        assertThat(Normal.hazard(z)).isCloseTo(z + 1 / z - 2 / (z * z * z) + 10 / Math.pow(z, 5), within(1e-8));
    }
}
