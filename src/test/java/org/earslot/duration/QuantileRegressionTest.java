package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class QuantileRegressionTest {

    /** R 4.2.2, data set stackloss (base R): air flow, water temperature, acid, loss. */
    private static final double[][] STACKLOSS = {
        {80, 27, 89, 42}, {80, 27, 88, 37}, {75, 25, 90, 37}, {62, 24, 87, 28}, {62, 22, 87, 18}, {62, 23, 87, 18},
        {62, 24, 93, 19}, {62, 24, 93, 20}, {58, 23, 87, 15}, {58, 18, 80, 14}, {58, 18, 89, 14}, {58, 17, 88, 13},
        {58, 18, 82, 11}, {58, 19, 93, 12}, {50, 18, 89, 8}, {50, 18, 86, 7}, {50, 19, 72, 8}, {50, 19, 79, 8},
        {50, 20, 80, 9}, {56, 20, 82, 15}, {70, 20, 91, 15}
    };

    /** R 4.2.2, quantreg 5.94: f <- rq(stack.loss ~ ., data = stackloss, tau); coef(f), f$rho. */
    @Test
    void agreesWithR() {
        agrees(
                0.5,
                new double[] {-39.6898550724638, 0.831884057971014, 0.573913043478265, -0.0608695652173913},
                21.0405797101449);
        agrees(
                0.8,
                new double[] {-58.5479452054795, 0.808219178082192, 1.27397260273974, 0.0342465753424666},
                13.9506849315068);
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
