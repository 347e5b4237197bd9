package org.earslot.flow;

import java.util.List;

/** Densities summed point by point. */
final class DensitySum {
    int first;
    private double[] values = {};

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

    boolean add(Smooth smooth) {
        add(smooth.first, smooth.p, 1);
        return true;
    }

    double[] values() {
        return values;
    }

    List<Smooth> parts() {
        return values.length == 0 ? List.of() : List.of(Smooth.fading(first, values));
    }
}
