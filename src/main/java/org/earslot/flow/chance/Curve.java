package org.earslot.flow.chance;

/** A function of time on the cells of a grid, straight between them and beyond its ends. */
public final class Curve {

    private final int first;
    private final double[] value;

    public Curve(int first, double[] value) {
        this.first = first;
        this.value = value;
    }

    /** The value at {@code x} cells, straight between cells, and beyond the ends as between the outermost two. */
    public double at(double x) {
        double t = x - first;
        int cell = (int) t;
        if (t < 0) {
            cell = 0;
        } else if (cell > value.length - 2) {
            cell = value.length - 2;
        }
        return value[cell] + (t - cell) * (value[cell + 1] - value[cell]);
    }

    /** E[f(x + T)] for x from {@code from} to {@code to}. */
    public Curve before(LatticeDistribution time, int from, int to) {
        double[] reach = new double[to - from + time.p.length];
        for (int i = 0; i < reach.length; i++) {
            reach[i] = at(from + time.first + i);
        }
        double[] mean = new double[to - from + 1];
        int d = 0;
        for (; d + 3 < time.p.length; d += 4) {
            double p0 = time.p[d];
            double p1 = time.p[d + 1];
            double p2 = time.p[d + 2];
            double p3 = time.p[d + 3];
            for (int i = 0; i < mean.length; i++) {
                mean[i] += p0 * reach[i + d] + p1 * reach[i + d + 1] + p2 * reach[i + d + 2] + p3 * reach[i + d + 3];
            }
        }
        for (; d < time.p.length; d++) {
            double p = time.p[d];
            for (int i = 0; i < mean.length; i++) {
                mean[i] += p * reach[i + d];
            }
        }
        return new Curve(from, mean);
    }
}
