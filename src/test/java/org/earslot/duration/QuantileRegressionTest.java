package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.earslot.duration.judge.Scores;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class QuantileRegressionTest {

    /** R 4.2.2, data set stackloss (base R): air flow, water temperature, acid, loss. */
    private static final double[][] STACKLOSS = {
        {80, 27, 89, 42}, {80, 27, 88, 37}, {75, 25, 90, 37}, {62, 24, 87, 28}, {62, 22, 87, 18}, {62, 23, 87, 18},
        {62, 24, 93, 19}, {62, 24, 93, 20}, {58, 23, 87, 15}, {58, 18, 80, 14}, {58, 18, 89, 14}, {58, 17, 88, 13},
        {58, 18, 82, 11}, {58, 19, 93, 12}, {50, 18, 89, 8}, {50, 18, 86, 7}, {50, 19, 72, 8}, {50, 19, 79, 8},
        {50, 20, 80, 9}, {56, 20, 82, 15}, {70, 20, 91, 15}
    };

    /** f <- rq(stack.loss ~ ., data = stackloss, tau); coef(f), f$rho: reference/stackloss.R, versions in stackloss.txt. */
    @Test
    void agreesWithR() {
        Reference r = Reference.of("stackloss");
        agrees(0.5, r.values("rq.0.5.coefficients"), r.value("rq.0.5.loss"));
        agrees(0.8, r.values("rq.0.8.coefficients"), r.value("rq.0.8.loss"));
    }

    private static void agrees(double probability, double[] expected, double rho) {
        double[][] x = new double[STACKLOSS.length][];
        double[] y = new double[STACKLOSS.length];
        for (int i = 0; i < y.length; i++) {
            x[i] = new double[] {1, STACKLOSS[i][0], STACKLOSS[i][1], STACKLOSS[i][2]};
            y[i] = STACKLOSS[i][3];
        }
        double[] b = QuantileRegression.solve(x, y, probability);
        double sum = 0;
        for (int i = 0; i < y.length; i++) {
            double fitted = b[0] + b[1] * x[i][1] + b[2] * x[i][2] + b[3] * x[i][3];
            sum += Scores.pinball(fitted, probability, y[i]);
        }
        assertThat(b[0]).isCloseTo(expected[0], within(0.02));
        for (int j = 1; j < expected.length; j++) {
            assertThat(b[j]).isCloseTo(expected[j], within(1e-3));
        }
        assertThat(sum).isCloseTo(rho, within(1e-4));
    }
}
