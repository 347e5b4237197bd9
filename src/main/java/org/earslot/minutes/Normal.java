package org.earslot.minutes;

/**
 * The standard normal distribution, fast.
 *
 * <p>Rational Chebyshev approximations of W. J. Cody, Mathematics of Computation 23 (1969) 631 to 637, in the
 * arrangement used by R's {@code pnorm}; relative error about 1e-15 in both tails.
 */
public final class Normal {

    /** 1 / sqrt(2 pi). */
    public static final double DENSITY_AT_ZERO = 0.3989422804014327;

    private static final double CENTRE = 0.67448975;
    private static final double TAIL = 5.656854249492381;

    private static final double[] A = {
        2.2352520354606839287,
        161.02823106855587881,
        1067.6894854603709582,
        18154.981253343561249,
        .065682337918207449113
    };
    private static final double[] B = {
        47.20258190468824187, 976.09855173777669322, 10260.932208618978205, 45507.789335026729956
    };
    private static final double[] C = {
        .39894151208813466764, 8.8831497943883759412, 93.506656132177855979, 597.27027639480026226,
        2494.5375852903726711, 6848.1904505362823326, 11602.651437647350124, 9842.7148383839780218,
        1.0765576773720192317e-8
    };
    private static final double[] D = {
        22.266688044328115691, 235.38790178262499861, 1519.377599407554805, 6485.558298266760755,
        18615.571640885098091, 34900.952721145977266, 38912.003286093271411, 19685.429676859990727
    };

    private Normal() {}

    /** P(Z <= z) for any z but NaN. */
    public static double cdf(double z) {
        double size = Math.abs(z);
        if (size <= CENTRE) {
            return 0.5 + centre(z);
        }
        double tail = Math.exp(-z * z / 2) * mills(size);
        return z > 0 ? 1 - tail : tail;
    }

    /** P(Z > z), accurate in the upper tail. */
    public static double upper(double z) {
        return cdf(-z);
    }

    /** The hazard density(z) / P(Z > z), finite for every finite z. */
    public static double hazard(double z) {
        if (z > CENTRE) {
            return DENSITY_AT_ZERO / mills(z);
        }
        return density(z) / cdf(-z);
    }

    /** log P(Z > z), finite for every finite z. */
    public static double logUpper(double z) {
        return z > CENTRE ? -z * z / 2 + Math.log(mills(z)) : Math.log(cdf(-z));
    }

    /** The density at z. */
    public static double density(double z) {
        return DENSITY_AT_ZERO * Math.exp(-z * z / 2);
    }

    /**
     * The z with P(Z <= z) = p.
     *
     * <p>P. J. Acklam's rational start (relative error 1.2e-9), one step of Halley on top.
     *
     * @param p in the open interval (0, 1)
     */
    public static double quantile(double p) {
        Domain.openUnit("probability", p);
        double z = start(p);
        // In the upper half the difference of the upper tails keeps its digits.
        double error = z > 0 ? (1 - p) - upper(z) : cdf(z) - p;
        double step = error / density(z);
        return z - step / (1 + z * step / 2);
    }

    private static double centre(double z) {
        double square = z * z;
        double above = A[4] * square;
        double below = square;
        for (int i = 0; i < 3; i++) {
            above = (above + A[i]) * square;
            below = (below + B[i]) * square;
        }
        return z * (above + A[3]) / (below + B[3]);
    }

    /** P(Z > y) exp(y^2 / 2) for y above {@link #CENTRE}. */
    private static double mills(double y) {
        if (y <= TAIL) {
            double above = C[8] * y;
            double below = y;
            for (int i = 0; i < 7; i++) {
                above = (above + C[i]) * y;
                below = (below + D[i]) * y;
            }
            return (above + C[7]) / (below + D[7]);
        }
        // Laplace's continued fraction; this far out sixteen terms exhaust the digits.
        double fraction = y;
        for (int term = 16; term > 0; term--) {
            fraction = y + term / fraction;
        }
        return DENSITY_AT_ZERO / fraction;
    }

    private static double start(double p) {
        double low = 0.02425;
        if (p < low) {
            return tailStart(Math.sqrt(-2 * Math.log(p)));
        }
        if (p > 1 - low) {
            return -tailStart(Math.sqrt(-2 * Math.log1p(-p)));
        }
        double q = p - 0.5;
        double r = q * q;
        return (((((-3.969683028665376e+01 * r + 2.209460984245205e+02) * r - 2.759285104469687e+02) * r
                                                        + 1.383577518672690e+02)
                                                * r
                                        - 3.066479806614716e+01)
                                * r
                        + 2.506628277459239e+00)
                * q
                / (((((-5.447609879822406e+01 * r + 1.615858368580409e+02) * r - 1.556989798598866e+02) * r
                                                        + 6.680131188771972e+01)
                                                * r
                                        - 1.328068155288572e+01)
                                * r
                        + 1);
    }

    private static double tailStart(double q) {
        return (((((-7.784894002430293e-03 * q - 3.223964580411365e-01) * q - 2.400758277161838e+00) * q
                                                        - 2.549732539343734e+00)
                                                * q
                                        + 4.374664141464968e+00)
                                * q
                        + 2.938163982698783e+00)
                / ((((7.784695709041462e-03 * q + 3.224671290700398e-01) * q + 2.445134137142996e+00) * q
                                        + 3.754408661907416e+00)
                                * q
                        + 1);
    }
}
