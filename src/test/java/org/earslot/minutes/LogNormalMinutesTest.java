package org.earslot.minutes;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

/** Against qlnorm and plnorm of R: reference/distributions.R, versions and calls in distributions.txt. */
class LogNormalMinutesTest {

    private static final Reference R = Reference.of("distributions");
    private static final LogNormalMinutes TWENTY = LogNormalMinutes.ofMoments(20, 8);

    @Test
    void hasTheLogsOfItsMoments() {
        double[] logs = R.values("mean_20_sd_8.logs");
        assertThat(TWENTY.meanLog()).isCloseTo(logs[0], within(1e-11));
        assertThat(TWENTY.sdLog()).isCloseTo(logs[1], within(1e-11));
        assertThat(TWENTY.mean()).isCloseTo(20, within(1e-12));
        assertThat(TWENTY.standardDeviation()).isCloseTo(8, within(1e-12));
    }

    @Test
    void hasTheQuantilesAndTheCdfOfR() {
        double[] quantiles = R.values("mean_20_sd_8.quantiles");
        double[] probabilities = {0.5, 0.75, 0.8, 0.9};
        for (int i = 0; i < probabilities.length; i++) {
            assertThat(TWENTY.quantile(probabilities[i])).isCloseTo(quantiles[i], within(1e-9));
        }
        double[] cdf = R.values("mean_20_sd_8.cdf");
        double[] minutes = {10, 20, 40};
        for (int i = 0; i < minutes.length; i++) {
            assertThat(TWENTY.cdf(minutes[i])).isCloseTo(cdf[i], within(1e-13));
        }
    }
}
