package org.earslot.duration.fit;

/**
 * Whether practice has changed, judged by how one-step-ahead forecasts missed, in their order of time.
 *
 * <p>A sharp change is a split of the misses into before and after: the split with the greatest gain of log-likelihood
 * under normal misses with two means over one, where that gain is beyond what chance gives. A gradual one is a {@link
 * WalkingLevel}.
 */
final class Drift {

    /** Gain of log-likelihood that chance hardly ever gives over all splits of a stable practice. */
    static final double SURE = 10;

    /** Gain of a sharp change over a slow drift alone. */
    static final double SHARP = 3;

    /** A change is not seen in fewer visits than this. */
    static final int FEWEST = 15;

    /** A choice made on earlier misses is kept unless another split gains so much more. */
    private static final double CLEARLY_BETTER = 6;

    /** A choice is looked at again after so many misses. */
    private static final int LOOK = 20;

    private Drift() {}

    /** A split before the miss {@code at}, -1 for none, and its gain. */
    private record Change(int at, double gain) {

        static final Change NONE = new Change(-1, 0);
    }

    /**
     * The sharpest change, found by going through the misses as they came: a split once chosen is kept while more misses
     * come, unless another is clearly better. So the choice of a later day is that of an earlier one, the earlier misses
     * being the same.
     *
     * @param misses standard normal where forecasts are right
     * @param from the first of them that counts
     * @return the first miss after the change, -1 where there was none
     */
    static int change(double[] misses, int from) {
        Change chosen = Change.NONE;
        // Only whole steps, so that the last look is one that later fits take too.
        for (int seen = from + 2 * FEWEST; seen <= misses.length; seen += LOOK) {
            Change best = best(misses, from, seen);
            double kept = chosen.at < 0 ? SURE - CLEARLY_BETTER : gain(misses, from, chosen.at, seen);
            chosen = best.gain > kept + CLEARLY_BETTER ? best : new Change(chosen.at, Math.max(0, kept));
        }
        return chosen.at;
    }

    /** The split with the greatest gain. */
    private static Change best(double[] misses, int from, int to) {
        double[] sums = sums(misses, from, to);
        double before = 0;
        Change best = Change.NONE;
        for (int at = from + 1; at + FEWEST <= to; at++) {
            before += misses[at - 1];
            if (at - from >= FEWEST) {
                double gain = gain(sums, before, at - from, to - from);
                if (gain > best.gain) {
                    best = new Change(at, gain);
                }
            }
        }
        return best;
    }

    private static double gain(double[] misses, int from, int at, int to) {
        return gain(sums(misses, from, to), sums(misses, from, at)[0], at - from, to - from);
    }

    private static double gain(double[] sums, double before, int split, int n) {
        double variance = Math.max(0.25, sums[1] / n - sums[0] / n * (sums[0] / n));
        double gap = before / split - (sums[0] - before) / (n - split);
        return gap * gap * split * (n - split) / n / (2 * variance);
    }

    /** The sum and that of squares. */
    private static double[] sums(double[] misses, int from, int to) {
        double[] sums = new double[2];
        for (int i = from; i < to; i++) {
            sums[0] += misses[i];
            sums[1] += misses[i] * misses[i];
        }
        return sums;
    }
}
