package org.earslot.flow.chance;

/** The later of two times: a time and a certain one, or two independent ones. */
final class DistributionMaximum {

    /** Chance below which nothing is taken to be left. */
    private static final double HARDLY = 1e-6;

    private final Atoms points = new Atoms();
    private final DensitySum fading = new DensitySum();
    private final DensityJumps densityJumps = new DensityJumps();
    /** Chance of what has a density. */
    private double dense;

    private DistributionMaximum() {}

    /** max(T, cells). */
    static MixedDistribution of(MixedDistribution mixedDistribution, double cells) {
        if (cells >= mixedDistribution.latest()) {
            return MixedDistribution.sure(cells);
        }
        DistributionMaximum maximum = new DistributionMaximum();
        maximum.beyond(mixedDistribution, cells);
        double left = maximum.points.sum() + maximum.dense;
        maximum.points.add(cells, mixedDistribution.total - left);
        return maximum.law(mixedDistribution.total);
    }

    /** T given T > cells; sure at {@code cells} where hardly any chance of that is left. */
    static MixedDistribution given(MixedDistribution mixedDistribution, double cells) {
        double above = mixedDistribution.above(cells);
        if (above < HARDLY) {
            return MixedDistribution.sure(cells);
        }
        DistributionMaximum maximum = new DistributionMaximum();
        // Scaled first: what may be cut off a tail counts against a whole.
        maximum.beyond(mixedDistribution.times(1 / (above * mixedDistribution.total)), cells);
        double left = maximum.points.sum() + maximum.dense;
        return left <= 0 ? MixedDistribution.sure(cells) : maximum.law(left);
    }

    /**
     * The later of two independent times and no earlier than {@code floor}: F(x) = F_a(x) F_b(x) from the floor on, taken
     * apart by what each consists of.
     */
    static MixedDistribution of(MixedDistribution a, MixedDistribution b, double floor) {
        if (b.isSure() || b.latest() <= floor) {
            return a.noEarlierThan(b.isSure() ? Math.max(floor, b.sureAt()) : floor);
        }
        DistributionMaximum maximum = new DistributionMaximum();
        for (int i = 0; i < a.at.length; i++) {
            double from = Math.max(a.at[i], floor);
            for (int j = 0; j < b.at.length; j++) {
                maximum.points.add(Math.max(from, b.at[j]), a.chance[i] * b.chance[j]);
            }
            maximum.after(b, from, a.chance[i]);
        }
        for (int j = 0; j < b.at.length; j++) {
            maximum.after(a, Math.max(b.at[j], floor), b.chance[j]);
        }
        for (ContinuousPart mine : a.parts) {
            for (ContinuousPart others : b.parts) {
                maximum.points.add(floor, mine.upTo(floor) * others.upTo(floor));
                maximum.add(mine.laterOf(others, floor));
            }
        }
        return maximum.law(maximum.points.sum() + maximum.dense);
    }

    private MixedDistribution law(double total) {
        return points.law(densityJumps.with(fading, ContinuousPart.TAIL), total);
    }

    private void add(ContinuousPart part) {
        dense += part.sum();
        if (part.begins()) {
            densityJumps.add(part);
        } else {
            fading.add(part.first, part.p, 1);
        }
    }

    /** What is later than {@code cells}. */
    private void beyond(MixedDistribution mixedDistribution, double cells) {
        for (int i = 0; i < mixedDistribution.at.length; i++) {
            if (mixedDistribution.at[i] > cells + MixedDistribution.SAME) {
                points.add(mixedDistribution.at[i], mixedDistribution.chance[i]);
            }
        }
        for (ContinuousPart each : mixedDistribution.parts) {
            ContinuousPart left = each.beyond(cells);
            if (left != null) {
                add(left);
            }
        }
    }

    /** What has a density, no earlier than {@code from}, with a chance {@code share}. */
    private void after(MixedDistribution mixedDistribution, double from, double share) {
        for (ContinuousPart each : mixedDistribution.parts) {
            points.add(from, share * each.upTo(from));
            ContinuousPart left = each.beyond(from);
            if (left != null) {
                add(left.times(share));
            }
        }
    }
}
