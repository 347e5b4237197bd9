package org.earslot.duration.predict;

import java.util.Arrays;

/**
 * The minutes of one segment where some of its findings are not known: a small discrete distribution, with the expected
 * design of each point. Built factor by factor; whenever there are too many points, neighbours on the log scale are
 * merged so that the mean minutes are kept. Reusable, for one thread.
 */
public final class LocationGrid {

    private final int most;

    public int count;
    double[] share = new double[64];
    public double[] minutes = new double[64];
    private double[] log = new double[64];

    /** Which column each slot of the design stands for. */
    public int[] slotColumn = new int[32];

    public int slots;

    /** Expected design by point and slot. */
    public double[][] design = new double[64][];

    private double[] nextShare = new double[64];
    private double[] nextMinutes = new double[64];
    private double[] nextLog = new double[64];
    private double[][] nextDesign = new double[64][];

    /** @param most points kept after each factor */
    public LocationGrid(int most) {
        this.most = most;
    }

    /**
     * One certain point.
     *
     * @param logMinutes of all that is known of the segment
     */
    public void start(double logMinutes) {
        count = 1;
        slots = 0;
        share[0] = 1;
        log[0] = logMinutes;
        minutes[0] = Math.exp(logMinutes);
        design[0] = cleared(design[0]);
    }

    private double[] cleared(double @org.jspecify.annotations.Nullable [] row) {
        if (row == null || row.length < slotColumn.length) {
            return new double[slotColumn.length];
        }
        Arrays.fill(row, 0);
        return row;
    }

    /** Multiplies by a factor of which only the shares of its levels are known. */
    public void spread(int[] columns, double[] shares, double[] coefficients) {
        int levels = columns.length;
        int firstSlot = slots;
        while (slots + levels > slotColumn.length) {
            slotColumn = Arrays.copyOf(slotColumn, 2 * slotColumn.length);
        }
        for (int level = 0; level < levels; level++) {
            slotColumn[slots++] = columns[level];
        }
        ensure(count * levels);
        int next = 0;
        for (int level = 0; level < levels; level++) {
            if (shares[level] <= 0) {
                continue;
            }
            double effect = columns[level] == Layout.NONE ? 0 : coefficients[columns[level]];
            double factor = effect == 0 ? 1 : Math.exp(effect);
            for (int point = 0; point < count; point++) {
                nextShare[next] = share[point] * shares[level];
                nextMinutes[next] = minutes[point] * factor;
                nextLog[next] = log[point] + effect;
                double[] row = cleared(nextDesign[next]);
                System.arraycopy(design[point], 0, row, 0, firstSlot);
                row[firstSlot + level] = 1;
                nextDesign[next] = row;
                next++;
            }
        }
        swap(next);
        if (count > most) {
            merge(most);
        }
    }

    private void ensure(int size) {
        if (nextShare.length < size) {
            nextShare = Arrays.copyOf(nextShare, size);
            nextMinutes = Arrays.copyOf(nextMinutes, size);
            nextLog = Arrays.copyOf(nextLog, size);
            nextDesign = Arrays.copyOf(nextDesign, size);
        }
    }

    private void swap(int next) {
        double[] values = share;
        share = nextShare;
        nextShare = values;
        values = minutes;
        minutes = nextMinutes;
        nextMinutes = values;
        values = log;
        log = nextLog;
        nextLog = values;
        double[][] rows = design;
        design = nextDesign;
        nextDesign = rows;
        count = next;
    }

    /** Leaves one point, the mean. */
    public void collapse() {
        merge(1);
    }

    private void merge(int most) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int point = 0; point < count; point++) {
            low = Math.min(low, log[point]);
            high = Math.max(high, log[point]);
        }
        double perLog = high > low ? most / (high - low) : 0;
        ensure(most);
        Arrays.fill(nextShare, 0, most, 0);
        Arrays.fill(nextMinutes, 0, most, 0);
        for (int bin = 0; bin < most; bin++) {
            nextDesign[bin] = cleared(nextDesign[bin]);
        }
        for (int point = 0; point < count; point++) {
            int bin = Math.min(most - 1, (int) ((log[point] - low) * perLog));
            double p = share[point];
            nextShare[bin] += p;
            nextMinutes[bin] += p * minutes[point];
            double[] from = design[point];
            double[] to = nextDesign[bin];
            for (int slot = 0; slot < slots; slot++) {
                to[slot] += p * from[slot];
            }
        }
        int kept = 0;
        for (int bin = 0; bin < most; bin++) {
            double p = nextShare[bin];
            if (p > 0) {
                nextShare[kept] = p;
                nextMinutes[kept] = nextMinutes[bin] / p;
                nextLog[kept] = Math.log(nextMinutes[kept]);
                double[] row = nextDesign[bin];
                for (int slot = 0; slot < slots; slot++) {
                    row[slot] /= p;
                }
                nextDesign[bin] = nextDesign[kept];
                nextDesign[kept] = row;
                kept++;
            }
        }
        swap(kept);
    }
}
