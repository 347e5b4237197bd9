package org.earslot.flow.chance;

import java.util.List;
import org.hipparchus.analysis.integration.gauss.HermiteRuleFactory;
import org.hipparchus.util.Pair;

/**
 * The values z of the day's common factor at which the list is run, and their weights.
 *
 * <p>On a plan: the Gauss-Hermite nodes (five, unless asked for more) of the standard normal. On a running list the finished visits, each known
 * to the minute, and the one that has lasted so long already, tell of the factor: the nodes are laid again around the
 * mean and with the spread of what they leave likely, and weighted by prior and likelihood (so few stay enough when
 * ten finished visits have narrowed it to a third).
 */
public record CommonFactor(double[] z, double[] weight) {

    private static final CommonFactor NONE = new CommonFactor(new double[] {0}, new double[] {1});
    /** Nodes of the common factor where few are enough. */
    public static final int FEW = 5;

    private static final CommonFactor FIVE = gaussHermite(FEW);
    private static final double LEAST_LIKELIHOOD = 1e-12;
    private static final int SCAN = 40;
    private static final double SCAN_RANGE = 4;

    /** What has been seen of one visit: it took from {@code least} to {@code most} minutes (infinite: still going on). */
    public record Seen(DistributionTable shape, double least, double most) {
        double logLikelihood(double z) {
            double beyond = most == Double.POSITIVE_INFINITY ? 0 : shape.outlasts(z, most);
            return Math.log(Math.max(LEAST_LIKELIHOOD, shape.outlasts(z, least) - beyond));
        }
    }

    /** @param nodes how many, 1 to 31 */
    public static CommonFactor of(double commonSd, List<Seen> seen, int nodes) {
        if (commonSd == 0) {
            return NONE;
        }
        CommonFactor planned = nodes == FEW ? FIVE : gaussHermite(nodes);
        return seen.isEmpty() ? planned : planned.laidAgain(seen);
    }

    /** The physicists' rule, weight exp(-x^2), brought to the standard normal by the factor sqrt 2. */
    private static CommonFactor gaussHermite(int nodes) {
        Pair<double[], double[]> rule = new HermiteRuleFactory().getRule(nodes);
        double[] z = rule.getFirst().clone();
        double[] weight = rule.getSecond().clone();
        for (int k = 0; k < nodes; k++) {
            z[k] *= Math.sqrt(2);
            weight[k] /= Math.sqrt(Math.PI);
        }
        return new CommonFactor(z, weight);
    }

    private CommonFactor laidAgain(List<Seen> seen) {
        double[] log = new double[2 * SCAN + 1];
        double top = Double.NEGATIVE_INFINITY;
        for (int k = 0; k < log.length; k++) {
            log[k] = logPosterior((k - SCAN) * SCAN_RANGE / SCAN, seen);
            top = Math.max(top, log[k]);
        }
        double total = 0;
        double mean = 0;
        double square = 0;
        for (int k = 0; k < log.length; k++) {
            double at = (k - SCAN) * SCAN_RANGE / SCAN;
            double w = Math.exp(log[k] - top);
            total += w;
            mean += w * at;
            square += w * at * at;
        }
        mean /= total;
        double sd = Math.sqrt(Math.max(1e-6, square / total - mean * mean));
        double[] laid = new double[z.length];
        double[] weighted = new double[z.length];
        double sum = 0;
        for (int k = 0; k < z.length; k++) {
            laid[k] = mean + sd * z[k];
            weighted[k] = weight[k] * Math.exp(logPosterior(laid[k], seen) - top + z[k] * z[k] / 2);
            sum += weighted[k];
        }
        for (int k = 0; k < z.length; k++) {
            weighted[k] /= sum;
        }
        return new CommonFactor(laid, weighted);
    }

    private static double logPosterior(double z, List<Seen> seen) {
        double log = -z * z / 2;
        for (Seen each : seen) {
            log += each.logLikelihood(z);
        }
        return log;
    }
}
