package org.earslot.duration.knowledge;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.predict.Cholesky;

/**
 * The numbers said, on the log scale, and how far they may be from what is found.
 *
 * <pre>
 *   y_i = h_i + s (c + d_k(i) + [i is a 90 % point] e_k(i)) + r_i
 *   c ~ N(0, COMMON^2)    everything is said too short, or too long
 *   d ~ N(0, OWN^2)       one kind of visit k is
 *   e ~ N(0, SPREAD^2)    the distance of the 90 % point from the median is misjudged
 *   r ~ N(0, g^2 / (12 m^2)), uniform rounding to g minutes: 5 where all numbers said are multiples of 5, else 1
 *   log s ~ N(0, SURENESS^2)
 * </pre>
 *
 * <p>The scale s is learnt: see {@link #scale}. The four sizes are assumptions from memory, wide enough for an experienced
 * lead to be wrong by a seventh. That what experts say is treated as noisy data on quantiles follows A. O'Hagan and others,
 * Uncertain Judgements: Eliciting Experts' Probabilities (Wiley, 2006), from memory.
 */
final class Statements {

    static final double MEDIAN = 0.5;
    static final double HIGH = 0.9;

    private static final double COMMON = 0.10;
    private static final double OWN = 0.08;
    private static final double SPREAD = 0.10;
    private static final double SURENESS = 0.7;

    /** Scales tried: exp of -1 to 3 in these steps. */
    private static final double STEP = 0.05;

    private static final int LOWEST = -20;
    private static final int HIGHEST = 60;

    /** By statement: the number of its visit, and the probability. */
    final int[] visit;

    final double[] probability;

    /** By statement: log of the minutes said. */
    final double[] log;

    private final double[] rounding;

    Statements(List<ElicitedMinutes> said) {
        int grid = said.stream().allMatch(one -> one.multipleOf(5)) ? 5 : 1;
        List<double[]> all = new ArrayList<>();
        for (int v = 0; v < said.size(); v++) {
            all.add(new double[] {v, MEDIAN, said.get(v).usual()});
            Double high = said.get(v).oneInTenOver();
            if (high != null) {
                all.add(new double[] {v, HIGH, high});
            }
        }
        visit = all.stream().mapToInt(one -> (int) one[0]).toArray();
        probability = all.stream().mapToDouble(one -> one[1]).toArray();
        log = all.stream().mapToDouble(one -> Math.log(one[2])).toArray();
        rounding = all.stream()
                .mapToDouble(one -> grid * grid / (12 * one[2] * one[2]))
                .toArray();
    }

    int size() {
        return log.length;
    }

    /** The variance of statement i about what is found, and its covariance with statement j. */
    double covariance(int i, int j, double scale) {
        double sum = COMMON * COMMON;
        if (visit[i] == visit[j]) {
            sum += OWN * OWN + (i == j && probability[i] == HIGH ? SPREAD * SPREAD : 0);
        }
        return scale * scale * sum + (i == j ? rounding[i] : 0);
    }

    /** The covariance of the statements about what is expected of them, lower triangle factored by Cholesky. */
    double[] factored(double[] expected, double scale) {
        int n = size();
        double[] square = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                square[i * n + j] = expected[i * n + j] + covariance(i, j, scale);
            }
        }
        Cholesky.factor(square, n);
        return square;
    }

    /**
     * The most likely scale: the maximum over s of log N(misses; 0, expected + cov(s)) + log prior(s), on a grid.
     *
     * @param misses what was said less what is expected, on the log scale
     * @param expected covariance of what is expected, by what is not known of the model
     */
    double scale(double[] misses, double[] expected) {
        double best = Double.NEGATIVE_INFINITY;
        double chosen = 1;
        for (int at = LOWEST; at <= HIGHEST; at++) {
            double log = at * STEP;
            double[] factor = factored(expected, Math.exp(log));
            double[] half = misses.clone();
            Cholesky.forward(factor, half.length, half, 0);
            double evidence = -0.5 * Cholesky.logDet(factor, half.length) - 0.5 * log * log / (SURENESS * SURENESS);
            for (double each : half) {
                evidence -= 0.5 * each * each;
            }
            if (evidence > best) {
                best = evidence;
                chosen = Math.exp(log);
            }
        }
        return chosen;
    }
}
