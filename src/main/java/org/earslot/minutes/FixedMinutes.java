package org.earslot.minutes;

/**
 * A time that is certain.
 *
 * @param minutes finite, at least 0
 */
public record FixedMinutes(double minutes) implements MinutesDistribution {

    public FixedMinutes {
        Domain.nonNegative("minutes", minutes);
    }

    @Override
    public double mean() {
        return minutes;
    }

    @Override
    public double standardDeviation() {
        return 0;
    }

    @Override
    public double cdf(double time) {
        Domain.notNan("minutes", time);
        return time >= minutes ? 1 : 0;
    }

    @Override
    public double quantile(double probability) {
        Domain.openUnit("probability", probability);
        return minutes;
    }

    @Override
    public MinutesDistribution remainder(double passed) {
        Domain.nonNegative("passed", passed);
        return new FixedMinutes(Math.max(0, minutes - passed));
    }
}
