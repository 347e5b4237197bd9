package org.earslot.minutes;

/**
 * A mixture of log-normal times, its probabilities corrected by a {@link ProbabilityMap}:
 * P(T <= t) = map(sum of w_i Phi((log t - m_i) / s_i)). Immutable; moments are computed on first use.
 */
public final class MixtureMinutes implements MinutesDistribution {

    /** Points of the log-time grid behind the moments. */
    private static final int GRID = 120;

    private static final int STEPS = 80;

    private final double[] weights;
    private final double[] meanLogs;
    private final double[] sdLogs;
    private final ProbabilityMap map;
    private final double lowest;
    private final double highest;
    private double @org.jspecify.annotations.Nullable [] moments;

    /**
     * @param weights at least 0, sum 1 within 1e-9
     * @param meanLogs finite
     * @param sdLogs above 0, finite
     * @param map what the mixture's probabilities turn out to be
     */
    public MixtureMinutes(double[] weights, double[] meanLogs, double[] sdLogs, ProbabilityMap map) {
        this.weights = weights.clone();
        this.meanLogs = meanLogs.clone();
        this.sdLogs = sdLogs.clone();
        this.map = map;
        double sum = 0;
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < weights.length; i++) {
            Domain.nonNegative("weight", weights[i]);
            Domain.finite("meanLog", meanLogs[i]);
            if (!(sdLogs[i] > 0 && sdLogs[i] < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException("sdLog is " + sdLogs[i] + "; give a finite number above 0");
            }
            sum += weights[i];
            // Beyond 8.5 standard deviations no double remembers that there is any probability left.
            low = Math.min(low, meanLogs[i] - 8.5 * sdLogs[i]);
            high = Math.max(high, meanLogs[i] + 8.5 * sdLogs[i]);
        }
        if (!(Math.abs(sum - 1) <= 1e-9)) {
            throw new IllegalArgumentException("weights add up to " + sum + "; give weights that add up to 1");
        }
        lowest = low;
        highest = high;
    }

    @Override
    public double mean() {
        return moments()[0];
    }

    @Override
    public double standardDeviation() {
        return moments()[1];
    }

    /** The standard deviation of the logarithm, uncorrected. */
    public double sdLog() {
        double mean = 0;
        double square = 0;
        for (int i = 0; i < weights.length; i++) {
            mean += weights[i] * meanLogs[i];
            square += weights[i] * (sdLogs[i] * sdLogs[i] + meanLogs[i] * meanLogs[i]);
        }
        return Math.sqrt(square - mean * mean);
    }

    @Override
    public double cdf(double minutes) {
        Domain.notNan("minutes", minutes);
        return minutes <= 0 ? 0 : map.forward(raw(Math.log(minutes)));
    }

    @Override
    public double quantile(double probability) {
        Domain.openUnit("probability", probability);
        return Math.exp(rawQuantile(map.inverse(probability)));
    }

    /** The uncorrected probability, at a time's logarithm. */
    private double raw(double log) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            sum += weights[i] * Normal.cdf((log - meanLogs[i]) / sdLogs[i]);
        }
        return Math.min(1, sum);
    }

    private double slope(double log) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            sum += weights[i] * Normal.density((log - meanLogs[i]) / sdLogs[i]) / sdLogs[i];
        }
        return sum;
    }

    /** Newton's steps kept inside a shrinking bracket. */
    private double rawQuantile(double probability) {
        double low = lowest;
        double high = highest;
        double at = start(probability);
        for (int step = 0; step < STEPS && high - low > 1e-14 * Math.max(1, Math.abs(at)); step++) {
            double error = raw(at) - probability;
            if (error >= 0) {
                high = at;
            } else {
                low = at;
            }
            double slope = slope(at);
            double next = slope > 0 ? at - error / slope : Double.NaN;
            if (Math.abs(next - at) <= 1e-13) {
                return Math.min(high, Math.max(low, next));
            }
            if (!(next > low && next < high)) {
                next = (low + high) / 2;
            }
            at = next;
        }
        return at;
    }

    private double start(double probability) {
        double mean = 0;
        double square = 0;
        for (int i = 0; i < weights.length; i++) {
            mean += weights[i] * meanLogs[i];
            square += weights[i] * (meanLogs[i] * meanLogs[i] + sdLogs[i] * sdLogs[i]);
        }
        double sd = Math.sqrt(Math.max(1e-300, square - mean * mean));
        double inside = Math.min(1 - 1e-9, Math.max(1e-9, probability));
        return Math.min(highest, Math.max(lowest, mean + sd * Normal.quantile(inside)));
    }

    /** E T = integral of P(T > t) dt and E T^2 = integral of 2 t P(T > t) dt, by Simpson's rule on log t. */
    private double[] moments() {
        double[] known = moments;
        if (known == null) {
            double low = rawQuantile(1e-9);
            double high = rawQuantile(1 - 1e-7);
            double width = (high - low) / GRID;
            double first = Math.exp(low);
            double second = Math.exp(2 * low);
            for (int point = 0; point <= GRID; point++) {
                double log = low + point * width;
                double weight = (point == 0 || point == GRID ? 1 : point % 2 == 1 ? 4 : 2) * width / 3;
                double time = Math.exp(log);
                double left = (1 - map.forward(raw(log))) * weight * time;
                first += left;
                second += 2 * left * time;
            }
            known = new double[] {first, Math.sqrt(Math.max(0, second - first * first))};
            moments = known;
        }
        return known;
    }
}
