package org.earslot.minutes;

/** Moments of a distribution known by its cdf and quantiles alone, by the midpoint rule on the probability scale. */
final class Moments {

    private static final int STEPS = 400;

    private Moments() {}

    /** The mean, in minutes; the outermost 1/800 on either side stands at its own median. */
    static double mean(MinutesDistribution of) {
        double sum = 0;
        for (int step = 0; step < STEPS; step++) {
            sum += of.quantile((step + 0.5) / STEPS);
        }
        return sum / STEPS;
    }

    /** The standard deviation, in minutes, by the same rule. */
    static double standardDeviation(MinutesDistribution of) {
        double[] points = new double[STEPS];
        double mean = 0;
        for (int step = 0; step < STEPS; step++) {
            points[step] = of.quantile((step + 0.5) / STEPS);
            mean += points[step] / STEPS;
        }
        double sum = 0;
        for (double point : points) {
            sum += (point - mean) * (point - mean);
        }
        return Math.sqrt(sum / STEPS);
    }
}
