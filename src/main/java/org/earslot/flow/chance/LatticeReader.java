package org.earslot.flow.chance;

import java.util.List;

/**
 * A distribution known on the points of the grid alone, read as a law: its masses stand for a density, but what stands
 * out from its neighbours, on one point or two, for a time with a chance of its own. Where it begins with such a time
 * (a floor, those who would have been earlier on it), its density begins there, too, with a jump.
 */
final class LatticeReader {

    /** A mass stands out that is so many times those beside it, and so much more. */
    private static final double STANDS_OUT = 3;

    private static final double LEAST_OUT = 0.005;
    private static final double ABRUPT = 1e-4;
    private static final double ABRUPT_PART = 0.3;

    private final int first;
    private final double[] p;
    private final Atoms points = new Atoms();

    /** @param mass of more than two points */
    LatticeReader(LatticeDistribution mass) {
        first = mass.first;
        p = mass.p.clone();
    }

    MixedDistribution law() {
        boolean onFirst = p[0] > STANDS_OUT * p[1] + LEAST_OUT;
        boolean between = !onFirst && p[0] + p[1] > 2 * STANDS_OUT * p[2] + LEAST_OUT;
        int from = between ? 2 : 1;
        if ((onFirst || between || isAbrupt()) && p.length > from + 3) {
            ContinuousPart beginning = fromFloor(from);
            double own = sum() - beginning.sum();
            if (own > 0) {
                takeOut(from, beginning.p);
                points.add(beginning.edge, own);
                return points.law(List.of(ContinuousPart.from(beginning.edge, beginning.p)), 1);
            }
        }
        takeOut(0, p);
        return points.law(List.of(ContinuousPart.fading(first, p)), 1);
    }

    /** Begins with a jump, though too little lies there to stand out. */
    private boolean isAbrupt() {
        return p[0] > ABRUPT && p[0] > ABRUPT_PART * p[1];
    }

    private double sum() {
        double all = 0;
        for (double each : p) {
            all += each;
        }
        return all;
    }

    private void takeOut(int start, double[] p) {
        for (int i = start; i < p.length; i++) {
            double before = i == 0 ? 0 : p[i - 1];
            double next = i + 1 < p.length ? p[i + 1] : 0;
            double after = i + 2 < p.length ? p[i + 2] : 0;
            if (p[i] > STANDS_OUT * Math.max(before, next) + LEAST_OUT) {
                double base = (before + next) / 2;
                points.add(first + i, p[i] - base);
                p[i] = base;
            } else if (p[i] + next > 2 * STANDS_OUT * Math.max(before, after) + LEAST_OUT) {
                double base = (before + after) / 2;
                double mine = Math.max(0, p[i] - base);
                double others = Math.max(0, next - base);
                points.add(first + i + others / (mine + others), mine + others);
                p[i] -= mine;
                p[i + 1] -= others;
            }
        }
    }

    /** The density behind a floor that lies before point {@code from}; up to the floor it goes on as a parabola. */
    private ContinuousPart fromFloor(int from) {
        double[] density = p.clone();
        for (int i = from - 1; i >= 0; i--) {
            double going = 3 * density[i + 1] - 3 * density[i + 2] + density[i + 3];
            double most = i == 0 ? 2 * density[1] : Math.min(p[i], 2 * density[i + 1]);
            density[i] = Math.min(most, Math.max(0, going));
        }
        double behind = from == 1 ? 0 : p[1] - density[1];
        return ContinuousPart.from(first + behind / (p[0] + behind), density);
    }
}
