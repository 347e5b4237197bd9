package org.earslot.minutes;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * A time whose logarithm follows Student's t: what a log-normal of unknown location and spread predicts. Times above
 * {@value #CEILING} minutes (a week) count as {@value #CEILING}, since the mean would not exist otherwise.
 *
 * @param meanLog location of log T (T in minutes), finite
 * @param scaleLog scale of log T, finite, at least 0 (0 is a certain time)
 * @param degreesOfFreedom above 0, finite
 */
public record LogStudentMinutes(double meanLog, double scaleLog, double degreesOfFreedom)
        implements MinutesDistribution {

    /** The longest time told apart, in minutes. */
    public static final double CEILING = 10_080;

    public LogStudentMinutes {
        Domain.finite("meanLog", meanLog);
        Domain.nonNegative("scaleLog", scaleLog);
        if (!(degreesOfFreedom > 0 && degreesOfFreedom < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "degreesOfFreedom is " + degreesOfFreedom + "; give a finite number above 0");
        }
    }

    @Override
    public double mean() {
        return Moments.mean(this);
    }

    @Override
    public double standardDeviation() {
        return Moments.standardDeviation(this);
    }

    @Override
    public double cdf(double minutes) {
        Domain.notNan("minutes", minutes);
        if (minutes <= 0) {
            return 0;
        }
        if (minutes >= CEILING) {
            return 1;
        }
        double distance = Math.log(minutes) - meanLog;
        if (scaleLog == 0) {
            return distance >= 0 ? 1 : 0;
        }
        return standard().cumulativeProbability(distance / scaleLog);
    }

    @Override
    public double quantile(double probability) {
        Domain.openUnit("probability", probability);
        double z = scaleLog == 0 ? 0 : standard().inverseCumulativeProbability(probability);
        return Math.min(CEILING, Math.exp(meanLog + scaleLog * z));
    }

    private TDistribution standard() {
        return new TDistribution(degreesOfFreedom, 1e-13);
    }
}
