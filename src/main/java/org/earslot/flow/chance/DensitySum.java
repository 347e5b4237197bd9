package org.earslot.flow.chance;

import java.util.List;

/** Densities summed point by point. */
final class DensitySum {
    int first;
    private double[] values = {};

    /** Empty, but ready for all that fades of these. */
    static DensitySum over(List<MixedDistribution> laws) {
        int from = Integer.MAX_VALUE;
        int end = Integer.MIN_VALUE;
        for (MixedDistribution law : laws) {
            for (ContinuousPart each : law.parts) {
                if (!each.begins()) {
                    from = Math.min(from, each.first);
                    end = Math.max(end, each.first + each.p.length);
                }
            }
        }
        DensitySum sum = new DensitySum();
        if (from < end) {
            sum.take(from, new double[end - from]);
        }
        return sum;
    }

    /** The first to be added, which is kept and not copied. */
    void take(int from, double[] p) {
        first = from;
        values = p;
    }

    void add(int from, double[] p, double weight) {
        if (values.length == 0) {
            first = from;
            values = new double[p.length];
        } else if (from < first || from + p.length > first + values.length) {
            int start = Math.min(first, from);
            double[] wider = new double[Math.max(first + values.length, from + p.length) - start];
            System.arraycopy(values, 0, wider, first - start, values.length);
            first = start;
            values = wider;
        }
        int shift = from - first;
        for (int i = 0; i < p.length; i++) {
            values[shift + i] += weight * p[i];
        }
    }

    double[] values() {
        return values;
    }

    List<ContinuousPart> parts() {
        return parts(ContinuousPart.TAIL);
    }

    /** @param tail what may be cut off either end */
    List<ContinuousPart> parts(double tail) {
        return values.length == 0 ? List.of() : List.of(ContinuousPart.fading(first, values, tail));
    }
}
