package org.earslot.minutes;

/**
 * The lesser of a time and an independent exponential time to a stop: P(T > t) = P(whole > t) exp(-hazard t).
 *
 * @param whole the time without stops
 * @param hazard stops per minute, finite, at least 0
 */
public record StoppedMinutes(MinutesDistribution whole, double hazard) implements MinutesDistribution {

    /** Halvings of the search for a quantile: the bracket shrinks to the last bits. */
    private static final int HALVINGS = 100;

    public StoppedMinutes {
        Domain.nonNegative("hazard", hazard);
    }

    @Override
    public double mean() {
        return hazard == 0 ? whole.mean() : Moments.mean(this);
    }

    @Override
    public double standardDeviation() {
        return hazard == 0 ? whole.standardDeviation() : Moments.standardDeviation(this);
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
        double low = 0;
        for (int halving = 0; halving < HALVINGS; halving++) {
            double middle = (low + high) / 2;
            if (middle <= low || middle >= high) {
                break;
            }
            if (cdf(middle) >= probability) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return high;
    }
}
