package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.minutes.ProbabilityMap;

/**
 * What probabilities turned out to be: one-step-ahead probabilities of past visits, gathered by class of noise, made into
 * monotone maps that are shrunk to the identity while visits are few.
 *
 * <p>Visits stopped early are right-censored: the share seen below each knot is Kaplan and Meier's. A class's map is shrunk
 * to the common one, the common one to the identity.
 */
final class Calibration {

    /** Visits that the identity is worth, and the common map beside a class's own. */
    private static final double IDENTITY_WORTH = 400;

    private static final double COMMON_WORTH = 700;

    /** No stretch of the map is flatter than this. */
    private static final double LEAST_SLOPE = 0.1;

    private static final double[] KNOTS = {
        0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95,
        0.98
    };

    private final int classes;
    private int count;
    private double[] said = new double[256];
    private double[] weight = new double[256];
    private boolean[] cut = new boolean[256];
    private int[] in = new int[256];

    Calibration(int classes) {
        this.classes = classes;
    }

    /** A past visit: the probability said beforehand of its being this short, and whether it was stopped early. */
    void add(double probability, boolean stoppedEarly, int ofClass, double times) {
        if (count == said.length) {
            said = Arrays.copyOf(said, 2 * count);
            weight = Arrays.copyOf(weight, 2 * count);
            cut = Arrays.copyOf(cut, 2 * count);
            in = Arrays.copyOf(in, 2 * count);
        }
        said[count] = probability;
        weight[count] = times;
        cut[count] = stoppedEarly;
        in[count++] = ofClass;
    }

    int count() {
        return count;
    }

    /** One map for each class. */
    ProbabilityMap[] maps() {
        Integer[] order = new Integer[count];
        for (int i = 0; i < count; i++) {
            order[i] = i;
        }
        Arrays.sort(
                order,
                (a, b) -> said[a] != said[b] ? Double.compare(said[a], said[b]) : Boolean.compare(cut[a], cut[b]));
        double[] common = seen(order, -1);
        double[] shrunk = shrink(common, total(-1), KNOTS, IDENTITY_WORTH);
        ProbabilityMap[] maps = new ProbabilityMap[classes];
        for (int c = 0; c < classes; c++) {
            double own = total(c);
            maps[c] = map(own == 0 ? shrunk : shrink(seen(order, c), own, shrunk, COMMON_WORTH));
        }
        return maps;
    }

    private double total(int ofClass) {
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += ofClass < 0 || in[i] == ofClass ? weight[i] : 0;
        }
        return sum;
    }

    /** Kaplan and Meier's share seen at each knot. */
    private double[] seen(Integer[] order, int ofClass) {
        double left = total(ofClass);
        double survive = 1;
        double[] seen = new double[KNOTS.length];
        int knot = 0;
        for (int i : order) {
            if (ofClass >= 0 && in[i] != ofClass) {
                continue;
            }
            while (knot < KNOTS.length && said[i] > KNOTS[knot]) {
                seen[knot++] = 1 - survive;
            }
            if (!cut[i] && left > 0) {
                survive *= Math.max(0, 1 - weight[i] / left);
            }
            left -= weight[i];
        }
        while (knot < KNOTS.length) {
            seen[knot++] = 1 - survive;
        }
        return seen;
    }

    private static double[] shrink(double[] seen, double own, double[] towards, double worth) {
        double[] shrunk = new double[seen.length];
        for (int knot = 0; knot < seen.length; knot++) {
            shrunk[knot] = (own * seen[knot] + worth * towards[knot]) / (own + worth);
        }
        return shrunk;
    }

    private static ProbabilityMap map(double[] seen) {
        int knots = KNOTS.length;
        double[] from = new double[knots + 2];
        double[] to = new double[knots + 2];
        from[knots + 1] = 1;
        double last = 0;
        for (int knot = 0; knot <= knots; knot++) {
            from[knot + 1] = knot < knots ? KNOTS[knot] : 1;
            double rise = from[knot + 1] - from[knot];
            double target = knot < knots ? seen[knot] : 1;
            last = Math.max(target, last + LEAST_SLOPE * rise);
            to[knot + 1] = last;
        }
        for (int knot = 1; knot <= knots + 1; knot++) {
            to[knot] /= last;
        }
        to[knots + 1] = 1;
        return new ProbabilityMap(from, to);
    }
}
