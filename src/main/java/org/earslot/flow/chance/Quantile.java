package org.earslot.flow.chance;

/** Where a distribution function passes a probability. */
public final class Quantile {

    private static final double SAME = MixedDistribution.SAME;
    private static final int MOST_STEPS = 50;
    /** Cells, and chance, by which a time between points may be out. */
    private static final double CLOSE = 1e-6;

    private static final double CLOSE_CHANCE = 1e-9;

    private final MixedDistribution mixedDistribution;
    /** Everything asked for next lies from here on. */
    private double low;

    private final double latest;

    public Quantile(MixedDistribution mixedDistribution) {
        this.mixedDistribution = mixedDistribution;
        low = mixedDistribution.earliest();
        latest = mixedDistribution.latest();
    }

    /**
     * The smallest t with P(T <= t) at least {@code probability}.
     *
     * @param probability not falling from call to call
     */
    public double at(double probability) {
        if (mixedDistribution.upTo(low) >= probability) {
            return low;
        }
        double high = latest;
        while (high - low > 1) {
            double middle = Math.floor((low + high) / 2);
            middle = middle <= low ? low + (high - low) / 2 : middle;
            if (mixedDistribution.upTo(middle) >= probability) {
                high = middle;
            } else {
                low = middle;
            }
        }
        double from = low;
        for (double each : mixedDistribution.at) {
            if (each > from + SAME && each <= high + SAME) {
                if (mixedDistribution.upTo(each) < probability) {
                    from = each;
                } else {
                    double before = each - 2 * SAME;
                    return mixedDistribution.upTo(before) < probability ? each : crossing(from, before, probability);
                }
            }
        }
        return crossing(from, high, probability);
    }

    /** In an interval without times of their own chance. */
    private double crossing(double from, double to, double probability) {
        double before = from;
        double after = to;
        double below = mixedDistribution.upTo(before) - probability;
        double above = mixedDistribution.upTo(after) - probability;
        for (int i = 0; i < MOST_STEPS && after - before > CLOSE && above > 1e-12; i++) {
            double straight = before + (after - before) * -below / (above - below);
            double guess = i % 3 == 2 ? (before + after) / 2 : straight;
            double there = mixedDistribution.upTo(guess) - probability;
            if (Math.abs(there) < CLOSE_CHANCE) {
                return guess;
            }
            if (there >= 0) {
                after = guess;
                above = there;
            } else {
                before = guess;
                below = there;
            }
        }
        return after;
    }
}
