package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;

/**
 * What the visits of one group (practitioner) on one day share beyond the group's own pace: good days and bad ones.
 *
 * <p>With g a visit's derivative of the log-likelihood by its location and p the location's precision, the person's own
 * spread in both, two visits that share an effect of variance v have E[g_i g_j] = v p_i p_j. Summed over all pairs of a
 * group's day, beside the assumed v0, whose standard deviation is assumed too:
 *
 * <pre>
 *   v = max(0, (w v0 + sum g_i g_j) / (w + sum p_i p_j)),   w = 1 / sd(v0)^2
 * </pre>
 */
final class DaySpread {

    /** So many of the latest visits are enough to learn from. */
    private static final int LATEST = 10_000;

    private DaySpread() {}

    /** The variance on the log scale; as assumed where no group has two visits on one day. */
    static double variance(Fit fit) {
        Prior prior = fit.layout.priors.line(Place.SIZE, "*", "group.day", "-");
        double assumed = prior.value() * prior.value();
        double worth = 1 / Math.pow(prior.spread() * assumed, 2);
        double[] pairs = pairs(fit);
        return Math.max(0, (worth * assumed + pairs[0]) / (worth + pairs[1]));
    }

    /** Sums over pairs of g_i g_j, and of p_i p_j. */
    private static double[] pairs(Fit fit) {
        PastVisits visits = fit.visits;
        RowStep step = new RowStep(fit, new SweepAccumulator(fit));
        double person = fit.persons ? fit.sizes.person * fit.sizes.person : 0;
        Day day = new Day(fit.groups);
        double[] pairs = new double[2];
        int from = Math.max(0, visits.count - LATEST);
        for (int i = from; i < visits.count; i++) {
            int row = visits.order[i];
            if (i > from && visits.day[row] != visits.day[visits.order[i - 1]]) {
                day.close(pairs);
            }
            if (visits.group[row] != Names.NONE) {
                step.evaluate(row, 0);
                double kept = 1 / (1 + step.precision * person);
                day.add(visits.group[row], step.slope * kept, step.precision * kept);
            }
        }
        day.close(pairs);
        return pairs;
    }

    /** One day's sums by group: of g, of its squares, of p, of its squares. */
    private static final class Day {

        private final double[][] sums;

        Day(int groups) {
            sums = new double[groups][4];
        }

        void add(int group, double slope, double precision) {
            double[] of = sums[group];
            of[0] += slope;
            of[1] += slope * slope;
            of[2] += precision;
            of[3] += precision * precision;
        }

        void close(double[] pairs) {
            for (double[] of : sums) {
                pairs[0] += (of[0] * of[0] - of[1]) / 2;
                pairs[1] += (of[2] * of[2] - of[3]) / 2;
                Arrays.fill(of, 0);
            }
        }
    }
}
