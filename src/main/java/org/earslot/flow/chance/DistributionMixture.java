package org.earslot.flow.chance;

import java.util.List;

/** A time that is one of several, each with a chance. */
final class DistributionMixture {

    private DistributionMixture() {}

    /** @param weights above 0, of any sum */
    static MixedDistribution of(List<Double> weights, List<MixedDistribution> laws) {
        double all = 0;
        for (double each : weights) {
            all += each;
        }
        Atoms points = new Atoms();
        DensitySum fading = DensitySum.over(laws);
        DensityJumps edges = new DensityJumps();
        for (int k = 0; k < laws.size(); k++) {
            MixedDistribution law = laws.get(k);
            double weight = weights.get(k) / all / law.total;
            for (int i = 0; i < law.at.length; i++) {
                points.add(law.at[i], weight * law.chance[i]);
            }
            for (ContinuousPart each : law.parts) {
                if (each.begins()) {
                    edges.add(each.times(weight));
                } else {
                    fading.add(each.first, each.p, weight);
                }
            }
        }
        return points.law(edges.with(fading, ContinuousPart.TAIL), 1);
    }
}
