package org.earslot.flow.chance;

import java.util.Arrays;
import java.util.List;

/** Times with a chance of their own; equal ones are joined. */
final class Atoms {
    /** A time with a smaller chance is left out. */
    private static final double SLIGHT = 1e-9;

    private static final double SAME = MixedDistribution.SAME;

    private double[] at = new double[4];
    private double[] chance = new double[4];
    private int count;

    void add(double time, double share) {
        if (share <= SLIGHT) {
            return;
        }
        int i = 0;
        while (i < count && at[i] < time - SAME) {
            i++;
        }
        if (i < count && at[i] <= time + SAME) {
            chance[i] += share;
            return;
        }
        if (count == at.length) {
            at = Arrays.copyOf(at, 2 * count);
            chance = Arrays.copyOf(chance, 2 * count);
        }
        System.arraycopy(at, i, at, i + 1, count - i);
        System.arraycopy(chance, i, chance, i + 1, count - i);
        at[i] = time;
        chance[i] = share;
        count++;
    }

    double sum() {
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += chance[i];
        }
        return sum;
    }

    MixedDistribution law(List<ContinuousPart> parts, double total) {
        return new MixedDistribution(Arrays.copyOf(at, count), Arrays.copyOf(chance, count), parts, total);
    }
}
