package org.earslot.flow.chance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;

/** Times in cells of the grid, against what they are made of. */
class MixedDistributionTest {

    private static final MinutesDistribution VISIT = LogNormalMinutes.ofMoments(20, 8);

    private static MixedDistribution law(MinutesDistribution time) {
        return DistributionTable.of(time, 0).law(0, 0, 0, 1);
    }

    @Test
    void sumsOfProductsAreThoseOfThePlainDoubleLoop() {
        SplittableRandom random = new SplittableRandom(5);
        for (int few = 1; few < 14; few++) {
            for (int many = few; many < 40; many += 3) {
                double[] a = random.doubles(few).toArray();
                double[] b = random.doubles(many).toArray();
                double[] plain = new double[few + many + 2];
                for (int i = 0; i < few; i++) {
                    for (int j = 0; j < many; j++) {
                        plain[i + j] += a[i] * b[j];
                    }
                }
                double[] sum = Convolution.of(a, b);
                assertThat(sum).hasSizeBetween(few + many - 1, few + many + 2);
                for (int k = 0; k < plain.length; k++) {
                    assertThat(k < sum.length ? sum[k] : 0).isCloseTo(plain[k], within(1e-12));
                }
            }
        }
    }

    /** One in six thousand comes so late; what is cut off tails must not eat into what is left. */
    @Test
    void whoIsLaterThanAlmostEverybodyStillComesAsTheDistributionSays() {
        MinutesDistribution delay = LogNormalMinutes.ofMoments(28, 9);
        double passed = 82.25;
        double left = 1 - delay.cdf(passed);
        MixedDistribution comes =
                DistributionTable.of(delay, 0).law(0, 0, 0, 1, 1e-9).given(passed);
        for (double minutes = 83; minutes < 110; minutes++) {
            assertThat(comes.above(minutes)).isCloseTo((1 - delay.cdf(minutes)) / left, within(2e-4));
        }
        MixedDistribution finish = comes.plus(law(VISIT), 1e-5);
        assertThat(finish.mean()).isCloseTo(comes.mean() + 20, within(2e-3));
        assertThat(finish.above(0)).isCloseTo(1, within(1e-9));
    }

    /** Those who would have been earlier lie on the floor; behind it the density begins with a jump. */
    @Test
    void aFloorIsFoundAgainInMassesOnTheGrid() {
        for (double floor : new double[] {14, 17, 20.5, 23.25}) {
            LatticeDistribution masses = law(VISIT).lattice().noEarlierThan(floor);
            MixedDistribution read = MixedDistribution.of(masses);
            assertThat(read.mean()).isCloseTo(masses.mean(), within(0.01));
            assertThat(read.upTo(floor + 0.1))
                    .as("on floor %s", floor)
                    .isCloseTo(VISIT.cdf(floor + 0.1), within(0.003));
            for (double x = Math.ceil(floor); x < 60; x++) {
                assertThat(read.upTo(x)).as("up to %s, floor %s", x, floor).isCloseTo(VISIT.cdf(x), within(0.003));
            }
        }
    }

    @Test
    void quantilesAreFoundOneAfterTheOther() {
        MixedDistribution late = law(VISIT).noEarlierThan(18);
        Quantile quantile = new Quantile(late);
        assertThat(quantile.at(0.1)).isEqualTo(18);
        assertThat(quantile.at(0.7)).isCloseTo(VISIT.quantile(0.7), within(1e-3));
        assertThat(quantile.at(0.95)).isCloseTo(VISIT.quantile(0.95), within(1e-3));
    }
}
