package org.earslot.duration.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.earslot.duration.predict.Layout;

/**
 * How large the effects of each factor's levels are, learnt beside the effects: where nothing is known of a table, most of
 * many factors matter little, and only all levels of one together tell. A multiple of the assumed spread for what kinds have
 * in common, and one for what they differ by. A value.
 */
final class EffectSizes {

    /** The usual multiple, and how far it may lie from that, as a logarithm. */
    private static final double USUAL = 0.4;

    private static final double SPREAD = 0.8;

    private static final double LARGEST_STEP = 0.7;

    /**
     * One factor's levels.
     *
     * @param columns by level, then by kind
     * @param common multiple of the assumed standard deviation of a level's mean over kinds
     * @param apart the same of the kinds' distance from that
     */
    private record Family(int[][] columns, double common, double apart) {}

    private final Design design;
    private final List<Family> families;

    /** The precision that is assumed of the coefficients, both triangles. */
    final double[][] precision;

    private EffectSizes(Design design, List<Family> families, double[][] precision) {
        this.design = design;
        this.families = families;
        this.precision = precision;
    }

    /** As assumed; they stay so where the priors know what to expect. */
    static EffectSizes of(Design design, boolean learnt) {
        List<Family> families = new ArrayList<>();
        Layout layout = design.layout;
        for (int factor = 0; factor < layout.vocabulary.factors.size() && learnt; factor++) {
            add(families, levels(layout, factor, 0, 1));
            add(families, levels(layout, factor, 1, layout.kinds + 1));
        }
        return new EffectSizes(design, families, design.priorPrecision);
    }

    private static void add(List<Family> families, int[][] columns) {
        if (columns.length > 0) {
            families.add(new Family(columns, 1, 1));
        }
    }

    /** The columns of each level but the reference, in these places; shared ones once. */
    private static int[][] levels(Layout layout, int factor, int from, int to) {
        List<int[]> levels = new ArrayList<>();
        for (int level = 0; level < layout.vocabulary.levels.get(factor).size(); level++) {
            int[] same = new int[to - from];
            int count = 0;
            for (int place = from; place < to; place++) {
                int[] of = layout.columns[place][factor];
                if (of != null && of[level] != Layout.NONE && (count == 0 || same[count - 1] != of[level])) {
                    same[count++] = of[level];
                }
            }
            if (count > 0) {
                levels.add(Arrays.copyOf(same, count));
            }
        }
        return levels.toArray(int[][]::new);
    }

    /**
     * One scoring step of every size towards the maximum of the evidence times its prior.
     *
     * @param covariance of the coefficients
     */
    EffectSizes stepped(double[] beta, double[] covariance) {
        if (families.isEmpty()) {
            return this;
        }
        List<Family> stepped = new ArrayList<>();
        for (Family family : families) {
            Step common = new Step(family.common);
            Step apart = new Step(family.apart);
            for (int[] level : family.columns) {
                level(level, beta, covariance, common, apart);
            }
            stepped.add(new Family(family.columns, common.next(), apart.next()));
        }
        return assumed(design, stepped);
    }

    /** These, in a design that has more columns after those of this one. */
    EffectSizes in(Design other) {
        return assumed(other, families);
    }

    private static EffectSizes assumed(Design design, List<Family> families) {
        EffectSizes sizes = new EffectSizes(design, families, design.priorPrecision.clone());
        for (Family family : families) {
            for (int[] level : family.columns) {
                sizes.assume(family, level);
            }
        }
        return sizes;
    }

    /** What one level says of both sizes, in units of what is assumed. */
    private void level(int[] level, double[] beta, double[] covariance, Step common, Step apart) {
        int kinds = level.length;
        double mean = 0;
        double squares = 0;
        double doubt = 0;
        double own = 0;
        for (int one : level) {
            double value = (beta[one] - design.priorMean[one]) / sd(one, kinds);
            mean += value;
            squares += value * value;
            for (int other : level) {
                double c = covariance[one * beta.length + other] / (sd(one, kinds) * sd(other, kinds));
                doubt += c;
                own += one == other ? c : 0;
            }
        }
        double r = LayoutBuilder.BETWEEN_KINDS;
        common.add(1, mean * mean / kinds / (1 - r + r * kinds), doubt / kinds / (1 - r + r * kinds));
        if (kinds > 1) {
            double rest = squares - mean * mean / kinds;
            apart.add(kinds - 1, rest / (1 - r), (own - doubt / kinds) / (1 - r));
        }
    }

    private void assume(Family family, int[] level) {
        int kinds = level.length;
        double r = LayoutBuilder.BETWEEN_KINDS;
        double common = 1 / ((1 - r + r * kinds) * family.common * family.common);
        double apart = kinds == 1 ? 0 : 1 / ((1 - r) * family.apart * family.apart);
        for (int one : level) {
            double[] row = precision[one].clone();
            for (int other : level) {
                double value = (common - apart) / kinds + (one == other ? apart : 0);
                row[other] = value / (sd(one, kinds) * sd(other, kinds));
            }
            precision[one] = row;
        }
    }

    /** The assumed standard deviation of a column, from the precision that it has beside its kinds. */
    private double sd(int column, int kinds) {
        double r = LayoutBuilder.BETWEEN_KINDS;
        return Math.sqrt((1 - r / (1 - r + r * kinds)) / (1 - r) / design.priorPrecision[column][column]);
    }

    private static final class Step {

        private final double size;
        private double score;
        private double kept;

        Step(double size) {
            this.size = size;
        }

        void add(int count, double square, double doubt) {
            double variance = size * size;
            score += (square + doubt) / variance - count;
            double known = Math.max(0, 1 - doubt / variance / count);
            kept += count * known * known;
        }

        double next() {
            double about = 1 / (SPREAD * SPREAD);
            double step = (score - about * Math.log(size / USUAL)) / (2 * kept + about);
            return size * Math.exp(Math.max(-LARGEST_STEP, Math.min(LARGEST_STEP, step)));
        }
    }
}
