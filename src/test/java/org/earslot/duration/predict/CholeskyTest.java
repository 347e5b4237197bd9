package org.earslot.duration.predict;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The factor and the inverse, on sizes about the numbers of rows that are taken together. */
class CholeskyTest {

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 7, 8, 9, 16, 37})
    void gives_the_square_back_and_its_inverse(int n) {
        double[] square = square(n);
        double[] factor = square.clone();
        assertThat(Cholesky.factor(factor, n)).isTrue();
        double[] inverse = Cholesky.inverse(factor, n);
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                double product = 0;
                double unit = 0;
                for (int k = 0; k < n; k++) {
                    product += k <= Math.min(i, j) ? factor[i * n + k] * factor[j * n + k] : 0;
                    unit += square[i * n + k] * inverse[k * n + j];
                }
                assertThat(product).isCloseTo(square[i * n + j], within(1e-12 * n));
                assertThat(unit).isCloseTo(i == j ? 1 : 0, within(1e-9));
            }
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {3, 9, 20})
    void says_where_a_square_lacks_rank(int n) {
        double[] ones = new double[n * n];
        java.util.Arrays.fill(ones, 1);
        assertThat(Cholesky.factor(ones, n)).isFalse();
    }

    private static double[] square(int n) {
        SplittableRandom random = new SplittableRandom(n);
        double[] half = random.doubles(n * n, -1, 1).toArray();
        double[] square = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    square[i * n + j] += half[i * n + k] * half[j * n + k] / n;
                }
            }
            square[i * n + i] += 0.1;
        }
        return square;
    }
}
