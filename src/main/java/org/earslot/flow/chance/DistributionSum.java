package org.earslot.flow.chance;

import java.util.List;

/** The sum of two independent times, taken apart by what each consists of. */
final class DistributionSum {

    private final DensitySum fading = new DensitySum();
    private final DensityJumps densityJumps = new DensityJumps();

    private DistributionSum() {}

    /** @param tail what may be cut off either end */
    static MixedDistribution of(MixedDistribution a, MixedDistribution b, double tail) {
        if (b.isSure()) {
            return a.later(b.sureAt());
        }
        return a.isSure() ? b.later(a.sureAt()) : new DistributionSum().law(a, b, tail);
    }

    private MixedDistribution law(MixedDistribution a, MixedDistribution b, double tail) {
        ContinuousPart mine = a.joined();
        ContinuousPart others = b.joined();
        if (mine != null && others != null) {
            fading.take(mine.first + others.first, convolved(mine.p, others.p));
        }
        moved(a, b);
        moved(b, a);
        Atoms points = new Atoms();
        for (int i = 0; i < a.at.length; i++) {
            for (int j = 0; j < b.at.length; j++) {
                points.add(a.at[i] + b.at[j], a.chance[i] * b.chance[j]);
            }
        }
        List<ContinuousPart> parts = densityJumps.with(fading, tail);
        return points.law(parts, a.total * b.total);
    }

    private static double[] convolved(double[] a, double[] b) {
        return a.length <= b.length ? Convolution.of(a, b) : Convolution.of(b, a);
    }

    /** What has a density, as much later as each time with a chance of its own. */
    private void moved(MixedDistribution own, MixedDistribution dense) {
        for (int i = 0; i < own.at.length; i++) {
            for (ContinuousPart each : dense.parts) {
                ContinuousPart there = each.later(own.at[i]);
                if (there.begins()) {
                    densityJumps.add(there.times(own.chance[i]));
                } else {
                    fading.add(there.first, there.p, own.chance[i]);
                }
            }
        }
    }
}
