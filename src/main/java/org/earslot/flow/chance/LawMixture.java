package org.earslot.flow.chance;

import java.util.List;

/** A time that is one of several, each with a chance. */
final class LawMixture {

    private LawMixture() {}

    /** @param weights above 0, of any sum */
    static Law of(List<Double> weights, List<Law> laws) {
        double all = 0;
        for (double each : weights) {
            all += each;
        }
        OwnTimes points = new OwnTimes();
        DensitySum fading = DensitySum.over(laws);
        Edges edges = new Edges();
        for (int k = 0; k < laws.size(); k++) {
            Law law = laws.get(k);
            double weight = weights.get(k) / all / law.total;
            for (int i = 0; i < law.at.length; i++) {
                points.add(law.at[i], weight * law.chance[i]);
            }
            for (Smooth each : law.parts) {
                if (each.begins()) {
                    edges.add(each.times(weight));
                } else {
                    fading.add(each.first, each.p, weight);
                }
            }
        }
        return points.law(edges.with(fading, Smooth.TAIL), 1);
    }
}
