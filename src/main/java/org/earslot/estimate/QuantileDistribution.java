package org.earslot.estimate;

import java.util.Arrays;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.earslot.minutes.MinutesDistribution;
import org.hipparchus.special.Erf;

/**
 * A time known by some of its quantiles: log minutes run straight between them over the normal score of the
 * probability, and straight on beyond the outermost ones. Exact for a log-normal time.
 */
public final class QuantileDistribution implements MinutesDistribution {

    private static final double LEAST_STEP = 1e-9;

    private final double[] scores;
    private final double[] logs;
    private final double mean;
    private final double sd;

    /**
     * @param quantiles at least two; probability, in (0, 1), to minutes, above 0 and not falling
     * @param mean minutes
     * @param sd minutes
     */
    public QuantileDistribution(Map<Double, Double> quantiles, double mean, double sd) {
        if (quantiles.size() < 2) {
            throw new IllegalArgumentException(quantiles.size() + " quantiles; give at least 2");
        }
        TreeMap<Double, Double> sorted = new TreeMap<>(quantiles);
        scores = sorted.keySet().stream()
                .mapToDouble(p -> -Math.sqrt(2) * Erf.erfcInv(2 * p))
                .toArray();
        logs = sorted.values().stream()
                .mapToDouble(minutes -> Math.log(Math.max(minutes, 0.01)))
                .toArray();
        for (int i = 1; i < logs.length; i++) {
            // Rounding may have made two quantiles equal; the cdf needs a rise, however small.
            logs[i] = Math.max(logs[i], logs[i - 1] + LEAST_STEP);
        }
        this.mean = mean;
        this.sd = sd;
    }

    @Override
    public double mean() {
        return mean;
    }

    @Override
    public double standardDeviation() {
        return sd;
    }

    @Override
    public double cdf(double minutes) {
        if (Double.isNaN(minutes)) {
            throw new IllegalArgumentException("minutes is not a number; give a number");
        }
        return minutes <= 0 ? 0 : 0.5 * Erf.erfc(-along(logs, scores, Math.log(minutes)) / Math.sqrt(2));
    }

    @Override
    public double quantile(double probability) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException(
                    "probability is " + probability + "; give a number between 0 and 1, both excluded");
        }
        return Math.exp(along(scores, logs, -Math.sqrt(2) * Erf.erfcInv(2 * probability)));
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof QuantileDistribution same
                && mean == same.mean
                && sd == same.sd
                && Arrays.equals(scores, same.scores)
                && Arrays.equals(logs, same.logs);
    }

    @Override
    public int hashCode() {
        return Objects.hash(mean, sd, Arrays.hashCode(logs));
    }

    private static double along(double[] from, double[] to, double at) {
        int right = 1;
        while (right < from.length - 1 && from[right] < at) {
            right++;
        }
        double share = (at - from[right - 1]) / (from[right] - from[right - 1]);
        return to[right - 1] + share * (to[right] - to[right - 1]);
    }
}
