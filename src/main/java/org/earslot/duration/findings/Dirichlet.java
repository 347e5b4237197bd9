package org.earslot.duration.findings;

import org.hipparchus.special.Gamma;

/**
 * How much a general table of shares is worth beside counts of one's own: the Dirichlet weight under which the counts are
 * most likely.
 */
final class Dirichlet {

    /** So much that the counts say nothing. */
    static final double ALL = Double.POSITIVE_INFINITY;

    private Dirichlet() {}

    /**
     * The logarithm of the probability of counts under shares drawn from a Dirichlet distribution.
     *
     * @param mean the expected shares, at least 0, of sum 1
     * @param worth the weight of the mean in visits; {@link #ALL} for shares that are the mean itself
     */
    static double logLikelihood(double[] counts, double[] mean, double worth) {
        double total = 0;
        double sum = 0;
        for (int i = 0; i < counts.length; i++) {
            if (counts[i] <= 0) {
                continue;
            }
            double share = Math.max(1e-9, mean[i]);
            total += counts[i];
            sum += worth == ALL
                    ? counts[i] * Math.log(share)
                    : Gamma.logGamma(worth * share + counts[i]) - Gamma.logGamma(worth * share);
        }
        return worth == ALL || total == 0 ? sum : sum + Gamma.logGamma(worth) - Gamma.logGamma(worth + total);
    }

    /**
     * The likeliest of the worths tried.
     *
     * @param expected the log-likelihood that each of them is given beforehand
     */
    static double worth(double[][] counts, double[][] means, double[] tried, double[] expected) {
        double best = Double.NEGATIVE_INFINITY;
        double chosen = tried[0];
        for (int i = 0; i < tried.length; i++) {
            double likelihood = expected[i];
            for (int row = 0; row < counts.length; row++) {
                likelihood += logLikelihood(counts[row], means[row], tried[i]);
            }
            if (likelihood > best) {
                best = likelihood;
                chosen = tried[i];
            }
        }
        return chosen;
    }

    /** Counts shrunk to a mean. */
    static double[] shrunk(double[] counts, double[] mean, double worth) {
        if (worth == ALL) {
            return mean.clone();
        }
        double total = 0;
        for (double count : counts) {
            total += count;
        }
        double[] shrunk = new double[counts.length];
        for (int i = 0; i < counts.length; i++) {
            shrunk[i] = (counts[i] + worth * mean[i]) / (total + worth);
        }
        return shrunk;
    }
}
