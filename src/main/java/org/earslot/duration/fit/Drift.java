package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.past.PastVisits;

/**
 * Whether practice has changed, judged by how one-step-ahead forecasts missed, in their order of time.
 *
 * <p>A sharp change is a split of the misses into before and after: the split with the greatest gain of log-likelihood
 * under normal misses with two means over one, where that gain is beyond what chance gives. A gradual one shows in the
 * means of consecutive blocks varying more than single misses allow.
 */
final class Drift {

    /** Gain of log-likelihood that chance hardly ever gives over all splits of a stable practice. */
    static final double SURE = 10;

    /** A change is not seen in fewer visits than this. */
    static final int FEWEST = 15;

    /** No half-life: all of the past counts alike. */
    static final double NONE = Double.POSITIVE_INFINITY;

    /** Half-lives tried, in days. */
    static final double[] HALF_LIVES = {720, 360, 180, 90};

    private static final int BLOCK = 40;

    private Drift() {}

    /**
     * The first miss after a sharp change.
     *
     * @param all misses, standard normal where forecasts are right
     * @param from the first of them that counts
     * @return its index, or -1 where there was no such change
     */
    static int change(double[] all, int from) {
        double[] misses = Arrays.copyOfRange(all, Math.min(from, all.length), all.length);
        int n = misses.length;
        double total = 0;
        double squares = 0;
        for (double miss : misses) {
            total += miss;
            squares += miss * miss;
        }
        double variance = Math.max(0.25, squares / n - total / n * (total / n));
        double before = 0;
        double best = SURE;
        int at = -1;
        for (int split = 1; split < n; split++) {
            before += misses[split - 1];
            if (split < FEWEST || n - split < FEWEST) {
                continue;
            }
            double gap = before / split - (total - before) / (n - split);
            double gain = gap * gap * split * (n - split) / n / (2 * variance);
            if (gain > best) {
                best = gain;
                at = split;
            }
        }
        return at < 0 ? at : from + at;
    }

    /** Whether block means vary more than single misses allow: chi-squared beyond its mean plus three deviations. */
    static boolean wanders(double[] all, int from) {
        double[] misses = Arrays.copyOfRange(all, Math.min(from, all.length), all.length);
        int blocks = misses.length / BLOCK;
        if (blocks < 3) {
            return false;
        }
        double chi = 0;
        double squares = 0;
        double total = 0;
        for (int i = 0; i < blocks * BLOCK; i++) {
            squares += misses[i] * misses[i];
            total += misses[i];
        }
        int n = blocks * BLOCK;
        double mean = total / n;
        double variance = Math.max(0.25, squares / n - mean * mean);
        for (int block = 0; block < blocks; block++) {
            double sum = 0;
            for (int i = block * BLOCK; i < (block + 1) * BLOCK; i++) {
                sum += misses[i];
            }
            double gap = sum / BLOCK - mean;
            chi += BLOCK * gap * gap / variance;
        }
        int freedom = blocks - 1;
        return chi > freedom + 3 * Math.sqrt(2.0 * freedom);
    }

    /** The rows' weights under a half-life, the last day counting in full. */
    static double[] weights(PastVisits visits, double halfLife) {
        if (halfLife == NONE) {
            return visits.weight;
        }
        long last = Long.MIN_VALUE;
        for (int row = 0; row < visits.count; row++) {
            last = Math.max(last, visits.day[row]);
        }
        double[] weights = new double[visits.count];
        for (int row = 0; row < visits.count; row++) {
            weights[row] = visits.weight[row] * Math.pow(2, (visits.day[row] - last) / halfLife);
        }
        return weights;
    }
}
