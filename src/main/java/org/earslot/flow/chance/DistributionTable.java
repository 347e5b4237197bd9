package org.earslot.flow.chance;

import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.hipparchus.special.Erf;

/**
 * A distribution made ready to be laid on grids under the day's common factor.
 *
 * <p>Given the factor's z (standard normal), T is taken as exp(s' z) B with B = exp(m + c (log T0 - m)), T0 the
 * prediction, m and v the mean and variance of log T0, c = sqrt(1 - s'^2 / v): for a log-normal the mixture over z is
 * the prediction itself; for others it has its mean and its log-mean and log-variance. s' = s, but at most
 * {@value #MOST_SHARED} sqrt(v): a visit cannot share more than it varies; a certain time shares nothing.
 *
 * <p>Tabulated once, on points evenly spaced in log minutes, is the excess H(x) = E[(B - x)+]; between points it is
 * read by cubic Hermite interpolation, its slope -(1 - F) being known. A prediction with jumps is smoothed over a
 * few per cent of its time; its mean is always kept.
 */
public final class DistributionTable {

    private static final double MOST_SHARED = 0.9;
    /** Chance cut off at either end. */
    private static final double TAIL = 1e-8;
    /** Parts of the mean within which a certain time stays. */
    private static final double CERTAIN = 1e-9;
    /** Parts of the mean below which a distribution function is taken as flat. */
    private static final double SHORTEST = 1e-3;

    private static final double LONGEST_MINUTES = 48 * 60;
    private static final int POINTS = 192;
    /** A density that comes out below this negative chance a cell is too steep for the grid. */
    private static final double STEEP = 1e-2;
    /** 1 - d2 / 12 + d4 / 90 as weights of a point, of those beside it and of those beside them. */
    private static final double OWN = 222 / 180.0;

    private static final double NEXT = -23 / 180.0;
    private static final double NEXT_BUT_ONE = 2 / 180.0;
    /** Cells by which a mean may be out. */
    private static final double CLOSE = 5e-5;

    /** A density that begins with at least so much of 1 / mean begins with a jump. */
    private static final double JUMP = 0.2;

    private static final double NORMAL_RANGE = 5.6;
    private static final double[] NORMAL = new double[POINTS];

    static {
        for (int k = 0; k < POINTS; k++) {
            double y = -NORMAL_RANGE + 2 * NORMAL_RANGE * k / (POINTS - 1);
            NORMAL[k] = 0.5 * Erf.erfc(-y / Math.sqrt(2));
        }
    }

    private final double mean;
    private final boolean certain;
    /** s' of this visit. */
    private final double shared;

    private double start;
    private double stride;
    private double[] point = {};
    private double[] excess = {};
    private double[] survival = {};

    private DistributionTable(double mean, boolean certain, double shared) {
        this.mean = mean;
        this.certain = certain;
        this.shared = shared;
    }

    static DistributionTable of(MinutesDistribution prediction, double commonSd) {
        double mean = prediction.mean();
        if (isCertain(prediction, mean)) {
            return new DistributionTable(mean, true, 0);
        }
        double[] cdf;
        double from;
        double to;
        if (prediction instanceof LogNormalMinutes normal) {
            from = normal.meanLog() - NORMAL_RANGE * normal.sdLog();
            to = normal.meanLog() + NORMAL_RANGE * normal.sdLog();
            cdf = NORMAL;
        } else {
            from = Math.log(shortest(prediction, mean));
            to = Math.log(longest(prediction, mean));
            cdf = new double[POINTS];
            for (int k = 0; k < POINTS; k++) {
                cdf[k] = prediction.cdf(Math.exp(from + (to - from) * k / (POINTS - 1)));
            }
        }
        return tabulated(mean, from, to, cdf, commonSd);
    }

    /** Whether it hardly leaves its mean; asked of the chances, since some work out a spread at great length. */
    private static boolean isCertain(MinutesDistribution prediction, double mean) {
        if (prediction instanceof LogNormalMinutes normal) {
            return !(normal.sdLog() > CERTAIN);
        }
        return !(mean > 0) || prediction.cdf(mean * (1 + CERTAIN)) - prediction.cdf(mean * (1 - CERTAIN)) > 1 - TAIL;
    }

    private static double shortest(MinutesDistribution prediction, double mean) {
        double x = mean;
        while (x > mean * SHORTEST && prediction.cdf(x) > TAIL) {
            x *= 0.8;
        }
        return x;
    }

    private static double longest(MinutesDistribution prediction, double mean) {
        double x = mean;
        while (x < LONGEST_MINUTES && prediction.cdf(x) < 1 - TAIL) {
            x *= 1.15;
        }
        return x;
    }

    private static DistributionTable tabulated(double mean, double from, double to, double[] cdf, double commonSd) {
        double du = (to - from) / (POINTS - 1);
        double logMean = 0;
        double square = 0;
        double total = 0;
        for (int k = 0; k + 1 < POINTS; k++) {
            double mass = cdf[k + 1] - cdf[k];
            double u = from + (k + 0.5) * du;
            total += mass;
            logMean += mass * u;
            square += mass * u * u;
        }
        logMean /= total;
        // Sheppard: masses put at the middle of their cells spread du^2 / 12 too far.
        double variance = Math.max(1e-12, square / total - logMean * logMean - du * du / 12);
        double shared = Math.min(commonSd, MOST_SHARED * Math.sqrt(variance));
        double narrow = Math.sqrt(1 - shared * shared / variance);
        DistributionTable shape = new DistributionTable(mean, false, shared);
        shape.start = logMean + narrow * (from - logMean);
        shape.stride = narrow * du;
        shape.fill(cdf, mean * Math.exp(-shared * shared / 2));
        return shape;
    }

    /** H by integrating the survival function from the right, then scaled to the mean wanted. */
    private void fill(double[] cdf, double wanted) {
        point = new double[POINTS];
        survival = new double[POINTS];
        excess = new double[POINTS];
        double ratio = Math.exp(stride);
        double x = Math.exp(start);
        double[] g = new double[POINTS];
        for (int k = 0; k < POINTS; k++, x *= ratio) {
            point[k] = x;
            survival[k] = 1 - cdf[k];
            g[k] = survival[k] * x;
        }
        for (int k = POINTS - 2; k >= 0; k--) {
            boolean inner = k > 0 && k < POINTS - 2;
            double area = inner
                    ? stride * (13 * (g[k] + g[k + 1]) - g[k - 1] - g[k + 2]) / 24
                    : (point[k + 1] - point[k]) * (survival[k] + survival[k + 1]) / 2;
            excess[k] = excess[k + 1] + area;
        }
        double head = point[0] * (1 + survival[0]) / 2;
        double scale = wanted / (excess[0] + head);
        for (int k = 0; k < POINTS; k++) {
            point[k] *= scale;
            excess[k] *= scale;
        }
        start += Math.log(scale);
    }

    /**
     * T given z, plus {@code shift} minutes, of which {@code passed} minutes are known to have gone by: T - passed given
     * T > passed. Where hardly any chance is left beyond {@code passed}, the visit is taken to end at once.
     */
    public LatticeDistribution lay(double z, double passed, double shift, double step) {
        double factor = Math.exp(shared * z);
        if (certain) {
            return LatticeDistribution.sure((Math.max(0, mean - passed) + shift) / step);
        }
        double left = passed == 0 ? 1 : survival(passed / factor);
        if (left < TAIL) {
            return LatticeDistribution.sure(shift / step);
        }
        int from = (int) Math.floor(shift / step);
        double longest = Math.max(0, point[POINTS - 1] * factor - passed) + shift;
        double[] p = new double[(int) Math.ceil(longest / step) + 2 - from];
        double[] h = excesses(passed, from * step - shift - step, step, p.length + 2, left, 1 / factor);
        double scale = factor / (left * step);
        double total = 0;
        for (int i = 0; i < p.length; i++) {
            p[i] = Math.max(0, scale * (h[i] - 2 * h[i + 1] + h[i + 2]));
            total += p[i];
        }
        for (int i = 0; i < p.length; i++) {
            p[i] /= total;
        }
        return LatticeDistribution.of(from, p);
    }

    /**
     * As {@link #lay}, as a law: the density at the points of the grid. What passed so far cuts it off with a jump. Where
     * it is steeper than the grid can show, masses that keep its mean stand for it.
     */
    public MixedDistribution law(double z, double passed, double shift, double step) {
        return law(z, passed, shift, step, ContinuousPart.TAIL);
    }

    /** @param tail what may be cut off either end */
    public MixedDistribution law(double z, double passed, double shift, double step, double tail) {
        double factor = Math.exp(shared * z);
        if (certain) {
            return MixedDistribution.sure((Math.max(0, mean - passed) + shift) / step);
        }
        double left = passed == 0 ? 1 : survival(passed / factor);
        if (left < TAIL) {
            return MixedDistribution.sure(shift / step);
        }
        int from = ContinuousPart.cell(shift / step);
        double longest = Math.max(0, point[passed == 0 ? last(tail) : POINTS - 1] * factor - passed) + shift;
        int count = (int) Math.ceil(longest / step) + 9 - from;
        double[] h = passed == 0
                ? excesses(0, (from - 3) * step - shift, step, count, 1, 1 / factor)
                : excessesThrough(passed + (from - 3) * step - shift, step, count, factor);
        double[] p = densities(h, factor / (left * step));
        boolean atOnce = passed == 0 && begins() && p.length > 5;
        if (atOnce) {
            begin(p, (1 - survival[0]) / point[0] / factor * step);
        }
        ContinuousPart smooth =
                atOnce || passed > 0 ? ContinuousPart.from(shift / step, p) : ContinuousPart.fading(from, p, tail);
        MixedDistribution law = MixedDistribution.of(smooth.times(1 / smooth.sum()));
        return passed > 0 ? law : kept(law, (factor * excess(0, 0) + shift) / step, tail);
    }

    /** The first point that is outlasted with less chance than what may be cut off. */
    private int last(double tail) {
        int k = POINTS - 1;
        while (k > 0 && survival[k - 1] < tail / 100) {
            k--;
        }
        return k;
    }

    /** The law moved by what little its mean is out, where that is more than the tail takes. */
    private static MixedDistribution kept(MixedDistribution law, double mean, double tail) {
        double out = mean - law.mean();
        return Math.abs(out) < CLOSE * Math.max(1, tail / ContinuousPart.TAIL) ? law : law.later(out);
    }

    /** Whether it may be over at once: its density begins with a jump. */
    private boolean begins() {
        return (1 - survival[0]) / point[0] * mean > JUMP;
    }

    /** The first points, which differences across the jump have spoilt: a cubic from the jump to those after them. */
    private static void begin(double[] p, double jump) {
        p[0] = jump;
        p[1] = 0.4 * jump + 2 * p[3] - 2 * p[4] + 0.6 * p[5];
        p[2] = 0.1 * jump + 2 * p[3] - 1.5 * p[4] + 0.4 * p[5];
    }

    /** H at x / factor for x = first, first + step, ..., whatever has passed. */
    private double[] excessesThrough(double first, double step, int count, double factor) {
        double[] h = new double[count];
        int k = 0;
        for (int i = 0; i < count; i++) {
            double b = (first + i * step) / factor;
            while (k < POINTS - 2 && point[k + 1] < b) {
                k++;
            }
            h[i] = excess(b, k);
        }
        return h;
    }

    /**
     * Second differences q of H are the density smoothed over a cell to either side. With their own differences,
     * q - d2 q / 12 + d4 q / 90, they are the density up to the sixth power of the step.
     */
    private static double[] densities(double[] h, double scale) {
        double[] q = new double[h.length - 2];
        for (int i = 0; i < q.length; i++) {
            double bend = scale * (h[i] - 2 * h[i + 1] + h[i + 2]);
            q[i] = bend > 0 ? bend : 0;
        }
        double[] p = new double[q.length - 4];
        double least = 0;
        for (int i = 0; i < p.length; i++) {
            p[i] = OWN * q[i + 2] + NEXT * (q[i + 1] + q[i + 3]) + NEXT_BUT_ONE * (q[i] + q[i + 4]);
        }
        for (double each : p) {
            least = each < least ? each : least;
        }
        if (least < -STEEP) {
            System.arraycopy(q, 2, p, 0, p.length);
        }
        return p;
    }

    /** H at (passed + x) / factor for x = first, first + step, ...; below x = 0 it goes on as a line of slope -left. */
    private double[] excesses(double passed, double first, double step, int count, double left, double unit) {
        double[] h = new double[count];
        double zero = excess(passed * unit, 0);
        int k = 0;
        int i = 0;
        for (; i < count && first + i * step < 0; i++) {
            h[i] = zero - (first + i * step) * unit * left;
        }
        for (; i < count; i++) {
            double b = (passed + first + i * step) * unit;
            while (k < POINTS - 2 && point[k + 1] < b) {
                k++;
            }
            h[i] = excess(b, k);
        }
        return h;
    }

    /** H(x) of B, the search for x's interval starting at interval {@code k}. */
    private double excess(double x, int from) {
        if (x <= point[0]) {
            double full = excess[0] + point[0] * (1 + survival[0]) / 2;
            return full + (excess[0] - full) * x / point[0];
        }
        if (x >= point[POINTS - 1]) {
            return 0;
        }
        int k = from;
        while (point[k + 1] < x) {
            k++;
        }
        double width = point[k + 1] - point[k];
        double a = (x - point[k]) / width;
        double b = 1 - a;
        return b * b * (1 + 2 * a) * excess[k]
                + a * a * (3 - 2 * a) * excess[k + 1]
                + width * a * b * (a * survival[k + 1] - b * survival[k]);
    }

    private double survival(double x) {
        if (x <= point[0]) {
            return 1 - (1 - survival[0]) * x / point[0];
        }
        double t = (Math.log(x) - start) / stride;
        int k = (int) t;
        if (k >= POINTS - 1) {
            return 0;
        }
        return survival[k] + (survival[k + 1] - survival[k]) * (x - point[k]) / (point[k + 1] - point[k]);
    }

    /** P(T > minutes given z). */
    double outlasts(double z, double minutes) {
        if (certain) {
            return 1;
        }
        return minutes <= 0 ? 1 : survival(minutes * Math.exp(-shared * z));
    }
}
