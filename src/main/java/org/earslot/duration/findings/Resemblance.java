package org.earslot.duration.findings;

import java.util.Arrays;

/**
 * How alike the levels of one factor are in two parts of the same visit: how much oftener two levels are found together
 * than they would be by chance. One ear narrow, the other narrow.
 *
 * <p>By chance with one share added at which both are the same, the likeliest share under the counts and what is assumed of
 * it; then the table of pairs itself, shrunk towards that by as much as makes the counts most likely. The same both ways
 * round. Parts of persons remembered are left out: there the memory says what both have in common.
 */
public final class Resemblance {

    private static final double[] SHARES = {0, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9};

    /** How sure the assumed share is, on the log scale, and what is added before the logarithm is taken. */
    private static final double SPREAD = 0.7;

    private static final double LEAST = 0.05;

    private static final double[] WORTHS = {30, 100, 300, 1000, 3000, Dirichlet.ALL};

    private static final double[] EXPECTED = new double[WORTHS.length];

    private final int levels;

    /** By pair of levels, the first one's in rows: how much commoner the pair is than by chance. */
    public final double[] ratio;

    /** @param ratio of each pair of levels, the first one's in rows */
    public Resemblance(int levels, double[] ratio) {
        this.levels = levels;
        this.ratio = ratio;
    }

    /** Pairs of findings, counted. */
    static final class Tally {

        private final int levels;
        private final double assumed;
        private final double[] pairs;

        /** @param assumed share of pairs that are the same for being alike, from 0 to below 1 */
        Tally(int levels, double assumed) {
            this.levels = levels;
            this.assumed = assumed;
            pairs = new double[levels * levels];
        }

        /** Two parts of one visit, one of this level and one of that. */
        void count(int one, int other, double weight) {
            pairs[one * levels + other] += weight / 2;
            pairs[other * levels + one] += weight / 2;
        }

        /**
         * What they say.
         *
         * @param general the shares of the levels found at all
         */
        Resemblance resemblance(double[] general) {
            return of(levels, assumed, pairs, general);
        }
    }

    private static Resemblance of(int levels, double assumed, double[] pairs, double[] general) {
        double best = Double.NEGATIVE_INFINITY;
        double[] mean = {};
        for (double share : SHARES) {
            double off = Math.log((share + LEAST) / (assumed + LEAST)) / SPREAD;
            double[] tried = together(levels, general, share);
            double likelihood = Dirichlet.logLikelihood(pairs, tried, Dirichlet.ALL) - 0.5 * off * off;
            if (likelihood > best) {
                best = likelihood;
                mean = tried;
            }
        }
        double worth = Dirichlet.worth(new double[][] {pairs}, new double[][] {mean}, WORTHS, EXPECTED);
        double[] ratio = Dirichlet.shrunk(pairs, mean, worth);
        double[] own = new double[levels];
        for (int i = 0; i < ratio.length; i++) {
            own[i / levels] += ratio[i];
        }
        for (int i = 0; i < ratio.length; i++) {
            ratio[i] /= Math.max(1e-12, own[i / levels] * own[i % levels]);
        }
        return new Resemblance(levels, ratio);
    }

    private static double[] together(int levels, double[] general, double share) {
        double[] chances = new double[levels * levels];
        for (int i = 0; i < chances.length; i++) {
            int one = i / levels;
            int other = i % levels;
            chances[i] = (1 - share) * general[one] * general[other] + (one == other ? share * general[one] : 0);
        }
        return chances;
    }

    /**
     * The chances of two levels together, the first one's in rows, of sum 1.
     *
     * @param one the shares of each alone
     */
    public double[] together(double[] one, double[] other) {
        double[] chances = new double[levels * levels];
        double total = 0;
        for (int i = 0; i < chances.length; i++) {
            chances[i] = one[i / levels] * other[i % levels] * ratio[i];
            total += chances[i];
        }
        if (!(total > 0)) {
            Arrays.fill(chances, 1.0 / chances.length);
            total = 1;
        }
        for (int i = 0; i < chances.length; i++) {
            chances[i] /= total;
        }
        return chances;
    }
}
