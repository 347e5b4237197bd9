package org.earslot.duration.fit;

/**
 * A level that moves by chance from day to day and is seen through noise: the local level model (Harvey, Forecasting,
 * Structural Time Series Models and the Kalman Filter, 1989), by which a slow drift of all times alike is followed.
 *
 * <p>Observations come in order of day, each with a variance of its own.
 */
final class WalkingLevel {

    /** How fast it may walk: standard deviations on the log scale in the root of a year. */
    private static final double[] WALKS = {0.03, 0.05, 0.08, 0.12, 0.18, 0.27, 0.4, 0.6, 0.9};

    private static final double DAYS = 365;

    /** Gain of log-likelihood that a walk has to bring before it is believed in. */
    static final double CLEAR = 3;

    /** Nothing is known of a level beforehand: a multiplier of 20 either way. */
    private static final double OPEN = 9;

    /**
     * Observations in order of day.
     *
     * @param value seen
     * @param variance of the noise of each
     * @param since by observation: the days over which the level had been averaged when that average was put at 0, where
     *     it is put at 0 anew; NaN elsewhere
     * @param jump by observation: the variance of a sharp move just before it, beside the walk
     */
    record Seen(long[] day, double[] value, double[] variance, double[] since, double[] jump) {}

    /**
     * The level before each observation.
     *
     * @param logLikelihood of the observations, but for constants, their noise scaled as fits best
     */
    record Filtered(double[] mean, double[] variance, double logLikelihood) {}

    /**
     * How a level walked.
     *
     * @param daily variance of a day's move; 0 where it does not walk
     * @param logLikelihood as {@link Filtered#logLikelihood}
     * @param gain of that over a level that does not walk
     */
    record Walk(double daily, double logLikelihood, double gain) {

        /** The standard deviation of a year's move. */
        double yearly() {
            return Math.sqrt(daily * DAYS);
        }
    }

    private WalkingLevel() {}

    /**
     * The walk, each speed counting by how well it explains what was seen: so more visits of the same kind move it little.
     */
    static Walk walk(Seen seen) {
        Walk none = still(seen);
        double still = none.logLikelihood;
        double best = still;
        double[] likelihood = new double[WALKS.length];
        for (int i = 0; i < WALKS.length; i++) {
            likelihood[i] = filter(seen, daily(i)).logLikelihood;
            best = Math.max(best, likelihood[i]);
        }
        if (best - still < CLEAR) {
            return none;
        }
        double sum = 0;
        double weight = 0;
        for (int i = 0; i < WALKS.length; i++) {
            double share = Math.exp(likelihood[i] - best);
            sum += share * daily(i);
            weight += share;
        }
        return new Walk(sum / weight, best, best - still);
    }

    /** One that does not walk. */
    static Walk still(Seen seen) {
        return new Walk(0, filter(seen, 0).logLikelihood, 0);
    }

    private static double daily(int walk) {
        return WALKS[walk] * WALKS[walk] / DAYS;
    }

    /** The level as it stood before each observation. */
    static Filtered filter(Seen seen, double daily) {
        int n = seen.value.length;
        double[] mean = new double[n];
        double[] variance = new double[n];
        double at = 0;
        double doubt = 0;
        double squares = 0;
        double logs = 0;
        for (int i = 0; i < n; i++) {
            if (!Double.isNaN(seen.since[i])) {
                at = 0;
                // The end of a walk lies from its mean by a third of what it moves in all.
                doubt = daily * seen.since[i] / 3;
            } else if (i > 0) {
                doubt += daily * Math.max(0, seen.day[i] - seen.day[i - 1]);
            }
            doubt += seen.jump[i];
            mean[i] = at;
            variance[i] = doubt;
            double whole = doubt + seen.variance[i];
            double miss = seen.value[i] - at;
            squares += miss * miss / whole;
            logs += Math.log(whole);
            at += doubt / whole * miss;
            doubt *= seen.variance[i] / whole;
        }
        return new Filtered(mean, variance, -0.5 * (n * Math.log(Math.max(1e-12, squares / Math.max(1, n))) + logs));
    }

    /**
     * The level at each observation given all of them, nothing being known of it beforehand; and at the end how sure it is.
     */
    static Filtered smoothed(Seen seen, double daily) {
        int n = seen.value.length;
        double[] mean = new double[n];
        double[] variance = new double[n];
        double at = 0;
        double doubt = OPEN;
        for (int i = 0; i < n; i++) {
            doubt += i == 0 ? 0 : daily * Math.max(0, seen.day[i] - seen.day[i - 1]);
            double whole = doubt + seen.variance[i];
            at += doubt / whole * (seen.value[i] - at);
            doubt *= seen.variance[i] / whole;
            mean[i] = at;
            variance[i] = doubt;
        }
        for (int i = n - 2; i >= 0; i--) {
            double move = daily * Math.max(0, seen.day[i + 1] - seen.day[i]);
            double share = variance[i] / (variance[i] + move);
            mean[i] += share * (mean[i + 1] - mean[i]);
            variance[i] += share * share * (variance[i + 1] - variance[i] - move);
        }
        return new Filtered(mean, variance, 0);
    }
}
