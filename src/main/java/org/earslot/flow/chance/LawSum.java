package org.earslot.flow.chance;

import java.util.List;

/** The sum of two independent times, taken apart by what each consists of. */
final class LawSum {

    private final DensitySum fading = new DensitySum();
    private final Edges edges = new Edges();

    private LawSum() {}

    /** @param tail what may be cut off either end */
    static Law of(Law a, Law b, double tail) {
        if (b.isSure()) {
            return a.later(b.sureAt());
        }
        return a.isSure() ? b.later(a.sureAt()) : new LawSum().law(a, b, tail);
    }

    private Law law(Law a, Law b, double tail) {
        Smooth mine = a.joined();
        Smooth others = b.joined();
        if (mine != null && others != null) {
            fading.take(mine.first + others.first, convolved(mine.p, others.p));
        }
        moved(a, b);
        moved(b, a);
        OwnTimes points = new OwnTimes();
        for (int i = 0; i < a.at.length; i++) {
            for (int j = 0; j < b.at.length; j++) {
                points.add(a.at[i] + b.at[j], a.chance[i] * b.chance[j]);
            }
        }
        List<Smooth> parts = edges.with(fading, tail);
        return points.law(parts, a.total * b.total);
    }

    private static double[] convolved(double[] a, double[] b) {
        return a.length <= b.length ? Convolution.of(a, b) : Convolution.of(b, a);
    }

    /** What has a density, as much later as each time with a chance of its own. */
    private void moved(Law own, Law dense) {
        for (int i = 0; i < own.at.length; i++) {
            for (Smooth each : dense.parts) {
                Smooth there = each.later(own.at[i]);
                if (there.begins()) {
                    edges.add(there.times(own.chance[i]));
                } else {
                    fading.add(there.first, there.p, own.chance[i]);
                }
            }
        }
    }
}
