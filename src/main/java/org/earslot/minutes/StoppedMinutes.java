package org.earslot.minutes;

/**
 * The lesser of a time and an independent exponential time to a stop: P(T > t) = P(whole > t) exp(-hazard t).
 *
 * @param whole the time without stops
 * @param hazard stops per minute, finite, at least 0
 */
public record StoppedMinutes(MinutesDistribution whole, double hazard) implements MinutesDistribution {

    /** Steps of the search for a quantile at the most; about ten are used. */
    private static final int STEPS = 100;

    /** Intervals of the log-time grid behind the moments, the probability left out at either end, and its least minutes. */
    private static final int GRID = 96;

    private static final double SELDOM = 1e-7;
    private static final double FIRST = 1e-2;

    public StoppedMinutes {
        Domain.nonNegative("hazard", hazard);
    }

    @Override
    public double mean() {
        return hazard == 0 ? whole.mean() : moments()[0];
    }

    @Override
    public double standardDeviation() {
        if (hazard == 0) {
            return whole.standardDeviation();
        }
        double[] moments = moments();
        return Math.sqrt(Math.max(0, moments[1] - moments[0] * moments[0]));
    }

    /**
     * E T = integral of P(T > t) dt and E T^2 = integral of 2 t P(T > t) dt, by Simpson's rule on log t; a cdf with jumps
     * costs accuracy of about the grid's step (5 % of the time at the jump).
     */
    private double[] moments() {
        double begin = Math.max(FIRST, whole.quantile(SELDOM));
        double low = Math.log(begin);
        double high = Math.log(Math.max(2 * begin, whole.quantile(1 - SELDOM)));
        double width = (high - low) / GRID;
        // Up to there only stops take anything off: E min(begin, stop), and the same of the square.
        double hb = hazard * begin;
        double first = begin * (1 - hb / 2 + hb * hb / 6);
        double second = begin * begin * (1 - 2 * hb / 3 + hb * hb / 4);
        for (int point = 0; point <= GRID; point++) {
            double time = Math.exp(low + point * width);
            double weight = (point == 0 || point == GRID ? 1 : point % 2 == 1 ? 4 : 2) * width / 3;
            double left = (1 - cdf(time)) * weight * time;
            first += left;
            second += 2 * left * time;
        }
        return new double[] {first, second};
    }

    @Override
    public double cdf(double minutes) {
        double unfinished = 1 - whole.cdf(minutes);
        return minutes <= 0 ? 1 - unfinished : 1 - unfinished * Math.exp(-hazard * minutes);
    }

    @Override
    public double quantile(double probability) {
        double high = whole.quantile(probability);
        if (hazard == 0 || high <= 0) {
            return high;
        }
        high = Math.min(high, -Math.log1p(-probability) / hazard);
        return root(probability, high);
    }

    /** False position with the halved weight of a side that stays (the Illinois rule), kept inside the bracket. */
    private double root(double probability, double most) {
        double low = 0;
        double high = most;
        double below = -probability;
        double above = cdf(most) - probability;
        for (int step = 0; step < STEPS && high - low > 1e-12 * high; step++) {
            double middle =
                    step % 8 == 7 || above <= below ? (low + high) / 2 : high - above * (high - low) / (above - below);
            if (!(middle > low && middle < high)) {
                middle = (low + high) / 2;
                if (!(middle > low && middle < high)) {
                    break;
                }
            }
            double error = cdf(middle) - probability;
            if (error >= 0) {
                high = middle;
                above = error;
                below /= 2;
            } else {
                low = middle;
                below = error;
                above /= 2;
            }
        }
        return high;
    }
}
