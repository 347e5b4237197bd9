package org.earslot.minutes;

import org.hipparchus.special.Erf;
import org.hipparchus.util.FastMath;

/**
 * A log-normal time: log T is normal with mean {@code meanLog} and standard deviation {@code sdLog} (T in minutes).
 *
 * @param meanLog finite
 * @param sdLog finite, at least 0 (0 is a certain time)
 */
public record LogNormalMinutes(double meanLog, double sdLog) implements MinutesDistribution {

    public LogNormalMinutes {
        Domain.finite("meanLog", meanLog);
        Domain.nonNegative("sdLog", sdLog);
    }

    /** The log-normal with this mean (minutes, above 0) and standard deviation (minutes, at least 0). */
    public static LogNormalMinutes ofMoments(double mean, double standardDeviation) {
        if (!(mean > 0 && mean < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("mean is " + mean + "; give a finite number above 0");
        }
        Domain.nonNegative("standardDeviation", standardDeviation);
        double ratio = standardDeviation / mean;
        double variance = Math.log1p(ratio * ratio);
        return new LogNormalMinutes(Math.log(mean) - variance / 2, Math.sqrt(variance));
    }

    @Override
    public double mean() {
        return Math.exp(meanLog + sdLog * sdLog / 2);
    }

    @Override
    public double standardDeviation() {
        return mean() * Math.sqrt(Math.expm1(sdLog * sdLog));
    }

    @Override
    public double cdf(double minutes) {
        Domain.notNan("minutes", minutes);
        if (minutes <= 0) {
            return 0;
        }
        double distance = Math.log(minutes) - meanLog;
        if (sdLog == 0) {
            return distance >= 0 ? 1 : 0;
        }
        return 0.5 * Erf.erfc(-distance / (sdLog * FastMath.sqrt(2)));
    }

    @Override
    public double quantile(double probability) {
        Domain.openUnit("probability", probability);
        // erfcInv keeps its accuracy in both tails.
        return Math.exp(meanLog - sdLog * FastMath.sqrt(2) * Erf.erfcInv(2 * probability));
    }
}
