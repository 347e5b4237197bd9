package org.earslot.flow.chance;

/** The later of two times: a time and a certain one, or two independent ones. */
final class LawMaximum {

    /** Chance below which nothing is taken to be left. */
    private static final double HARDLY = 1e-6;

    private final OwnTimes points = new OwnTimes();
    private final DensitySum fading = new DensitySum();
    private final Edges edges = new Edges();
    /** Chance of what has a density. */
    private double dense;

    private LawMaximum() {}

    /** max(T, cells). */
    static Law of(Law law, double cells) {
        if (cells >= law.latest()) {
            return Law.sure(cells);
        }
        LawMaximum maximum = new LawMaximum();
        maximum.beyond(law, cells);
        double left = maximum.points.sum() + maximum.dense;
        maximum.points.add(cells, law.total - left);
        return maximum.law(law.total);
    }

    /** T given T > cells; sure at {@code cells} where hardly any chance of that is left. */
    static Law given(Law law, double cells) {
        double above = law.above(cells);
        if (above < HARDLY) {
            return Law.sure(cells);
        }
        LawMaximum maximum = new LawMaximum();
        // Scaled first: what may be cut off a tail counts against a whole.
        maximum.beyond(law.times(1 / (above * law.total)), cells);
        double left = maximum.points.sum() + maximum.dense;
        return left <= 0 ? Law.sure(cells) : maximum.law(left);
    }

    /**
     * The later of two independent times and no earlier than {@code floor}: F(x) = F_a(x) F_b(x) from the floor on, taken
     * apart by what each consists of.
     */
    static Law of(Law a, Law b, double floor) {
        if (b.isSure() || b.latest() <= floor) {
            return a.noEarlierThan(b.isSure() ? Math.max(floor, b.sureAt()) : floor);
        }
        LawMaximum maximum = new LawMaximum();
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
        for (Smooth mine : a.parts) {
            for (Smooth others : b.parts) {
                maximum.points.add(floor, mine.upTo(floor) * others.upTo(floor));
                maximum.add(mine.laterOf(others, floor));
            }
        }
        return maximum.law(maximum.points.sum() + maximum.dense);
    }

    private Law law(double total) {
        return points.law(edges.with(fading, Smooth.TAIL), total);
    }

    private void add(Smooth part) {
        dense += part.sum();
        if (part.begins()) {
            edges.add(part);
        } else {
            fading.add(part.first, part.p, 1);
        }
    }

    /** What is later than {@code cells}. */
    private void beyond(Law law, double cells) {
        for (int i = 0; i < law.at.length; i++) {
            if (law.at[i] > cells + Law.SAME) {
                points.add(law.at[i], law.chance[i]);
            }
        }
        for (Smooth each : law.parts) {
            Smooth left = each.beyond(cells);
            if (left != null) {
                add(left);
            }
        }
    }

    /** What has a density, no earlier than {@code from}, with a chance {@code share}. */
    private void after(Law law, double from, double share) {
        for (Smooth each : law.parts) {
            points.add(from, share * each.upTo(from));
            Smooth left = each.beyond(from);
            if (left != null) {
                add(left.times(share));
            }
        }
    }
}
