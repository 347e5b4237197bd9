package org.earslot.duration.findings;

import org.earslot.duration.past.LastFindings;

/**
 * How far earlier findings of a person speak for the next one: shares are the general ones, worth so many findings,
 * together with what was found in the same part, and with what was found in other parts at a discount. Worth and discount
 * are those under which the findings of returning persons are most likely.
 *
 * @param worth of the general shares, in findings
 * @param discount of a finding in another part against one in the same
 * @param adds whether several findings in other parts count each; else all of them together as one
 */
public record CarryForward(double worth, double discount, boolean adds) {

    private static final double[] WORTHS = {0.005, 0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.5, 3, 6, 12, 25};
    private static final double[] DISCOUNTS = {0, 0.15, 0.3, 0.6, 1};

    /** How sure the assumed worth is, on the log scale, per finding that it is said to be worth. */
    private static final double SPREAD = 0.7;

    private static final int MOST = 1500;

    /** The assumed discount. */
    private static final double DISCOUNT = 0.3;

    private static double worth(double stays) {
        return (1 - stays) / Math.max(1e-3, stays);
    }

    /** How much is assumed to speak for what was found once in another part. */
    static double ofOneOther(double stays) {
        return DISCOUNT / (worth(stays) + DISCOUNT);
    }

    /** Findings of persons who have been before. */
    static final class Tally {

        private final double assumed;
        private final long[] before = new long[MOST];
        private final int[] found = new int[MOST];
        private long seen;

        /** @param stays assumed probability that what was found last is found again */
        Tally(double stays) {
            assumed = CarryForward.worth(stays);
        }

        /** A finding of someone who has been before. The last ones are kept. */
        void add(long recollection, int level) {
            int at = (int) (seen % MOST);
            before[at] = recollection;
            found[at] = level;
            seen++;
        }

        /**
         * The likeliest worth and discount; as assumed if nobody has been before.
         *
         * @param shares of the levels found at all
         */
        CarryForward likeliest(double[] shares) {
            CarryForward chosen = new CarryForward(assumed, DISCOUNT, false);
            Seen[] all = new Seen[(int) Math.min(MOST, seen)];
            for (int i = 0; i < all.length; i++) {
                all[i] = Seen.of(before[i], found[i], shares);
            }
            double best = Double.NEGATIVE_INFINITY;
            for (double worth : all.length == 0 ? new double[0] : WORTHS) {
                double off = Math.log(worth / assumed) / SPREAD;
                for (double discount : DISCOUNTS) {
                    for (boolean adds : discount == 0 ? new boolean[] {false} : new boolean[] {false, true}) {
                        CarryForward tried = new CarryForward(worth, discount, adds);
                        double likelihood = tried.logLikelihood(all) - 0.5 * off * off;
                        if (likelihood > best) {
                            best = likelihood;
                            chosen = tried;
                        }
                    }
                }
            }
            return chosen;
        }
    }

    private double logLikelihood(Seen[] all) {
        double sum = 0;
        double product = 1;
        for (Seen each : all) {
            product *= share(each);
            // One logarithm for many factors, before they are too small a number.
            if (product < 1e-200) {
                sum += Math.log(product);
                product = 1;
            }
        }
        return sum + Math.log(product);
    }

    private double share(Seen seen) {
        double perOther = seen.others == 0 ? 0 : adds ? discount : discount / seen.others;
        return (worth * seen.general + seen.same + perOther * seen.other)
                / (worth + seen.sames + perOther * seen.others);
    }

    /**
     * A level, and what was found before.
     *
     * @param general the level's share at all
     * @param same earlier findings of this level in the same part
     * @param other in other parts
     * @param sames earlier findings of any level in the same part
     * @param others in other parts
     */
    private record Seen(double general, double same, double other, double sames, double others) {

        static Seen of(long recollection, int level, double[] shares) {
            double sames = 0;
            double others = 0;
            for (int l = 0; l < shares.length; l++) {
                sames += LastFindings.inSame(recollection, l);
                others += LastFindings.inOther(recollection, l);
            }
            return new Seen(
                    shares[level],
                    LastFindings.inSame(recollection, level),
                    LastFindings.inOther(recollection, level),
                    sames,
                    others);
        }
    }

    /**
     * Multiplies shares by what is remembered.
     *
     * @param general the shares of the levels found at all
     */
    void apply(long recollection, double[] general, double[] shares) {
        if (recollection == LastFindings.NONE) {
            return;
        }
        for (int level = 0; level < general.length; level++) {
            shares[level] *= share(Seen.of(recollection, level, general)) / general[level];
        }
    }
}
