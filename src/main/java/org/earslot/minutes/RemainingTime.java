package org.earslot.minutes;

/** What is left of a time of which some minutes have passed: T - passed given T > passed. */
record RemainingTime(MinutesDistribution whole, double passed) implements MinutesDistribution {

    /** Steps of the probability rule behind the moments. */
    private static final int STEPS = 400;

    RemainingTime {
        Domain.nonNegative("passed", passed);
    }

    /** Where no probability is left beyond {@code passed}, the visit is taken to end at once. */
    private boolean exhausted() {
        return left() <= 0;
    }

    private double left() {
        return 1 - whole.cdf(passed);
    }

    @Override
    public double mean() {
        double sum = 0;
        for (int step = 0; step < STEPS; step++) {
            sum += quantile((step + 0.5) / STEPS);
        }
        return sum / STEPS;
    }

    @Override
    public double standardDeviation() {
        double mean = mean();
        double sum = 0;
        for (int step = 0; step < STEPS; step++) {
            double distance = quantile((step + 0.5) / STEPS) - mean;
            sum += distance * distance;
        }
        return Math.sqrt(sum / STEPS);
    }

    @Override
    public double cdf(double minutes) {
        Domain.notNan("minutes", minutes);
        if (minutes < 0) {
            return 0;
        }
        if (exhausted()) {
            return 1;
        }
        double before = whole.cdf(passed);
        return Math.min(1, Math.max(0, (whole.cdf(passed + minutes) - before) / (1 - before)));
    }

    @Override
    public double quantile(double probability) {
        Domain.openUnit("probability", probability);
        if (exhausted()) {
            return 0;
        }
        double before = whole.cdf(passed);
        double target = before + probability * (1 - before);
        return target < 1 ? Math.max(0, whole.quantile(target) - passed) : 0;
    }

    @Override
    public MinutesDistribution remainder(double more) {
        Domain.nonNegative("passed", more);
        return new RemainingTime(whole, passed + more);
    }
}
