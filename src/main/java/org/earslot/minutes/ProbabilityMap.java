package org.earslot.minutes;

/**
 * A strictly increasing, piecewise linear map of [0, 1] onto itself: what a forecast's probabilities turn out to be.
 * Immutable.
 */
public final class ProbabilityMap {

    /** Nothing to correct. */
    public static final ProbabilityMap IDENTITY = new ProbabilityMap(new double[] {0, 1}, new double[] {0, 1});

    private final double[] said;
    private final double[] seen;

    /**
     * @param said knots, strictly increasing from 0 to 1
     * @param seen their images, strictly increasing from 0 to 1, as many
     */
    public ProbabilityMap(double[] said, double[] seen) {
        this.said = said.clone();
        this.seen = seen.clone();
        int last = said.length - 1;
        if (last < 1
                || seen.length != said.length
                || said[0] != 0
                || seen[0] != 0
                || said[last] != 1
                || seen[last] != 1) {
            throw new IllegalArgumentException("a probability map leads from 0 to 0 and from 1 to 1, knot by knot");
        }
        for (int knot = 1; knot <= last; knot++) {
            if (!(said[knot] > said[knot - 1] && seen[knot] > seen[knot - 1])) {
                throw new IllegalArgumentException("knot " + knot + " of a probability map does not increase");
            }
        }
    }

    /**
     * What a probability said turns out to be.
     *
     * @param probability in [0, 1]
     */
    public double forward(double probability) {
        return map(said, seen, probability);
    }

    /**
     * The probability to say for one to be seen.
     *
     * @param probability in [0, 1]
     */
    public double inverse(double probability) {
        return map(seen, said, probability);
    }

    /** The knots on the side of what was said. */
    public double[] said() {
        return said.clone();
    }

    /** The knots on the side of what was seen. */
    public double[] seen() {
        return seen.clone();
    }

    private static double map(double[] from, double[] to, double probability) {
        int last = from.length - 1;
        if (!(probability > 0)) {
            return 0;
        }
        if (probability >= 1) {
            return 1;
        }
        int low = 0;
        int high = last;
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (from[middle] <= probability) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double share = (probability - from[low]) / (from[high] - from[low]);
        return to[low] + share * (to[high] - to[low]);
    }
}
