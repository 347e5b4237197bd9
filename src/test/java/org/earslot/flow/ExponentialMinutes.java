package org.earslot.flow;

import org.earslot.minutes.MinutesDistribution;

/** The memoryless time of the published checks. */
record ExponentialMinutes(double mean) implements MinutesDistribution {

    @Override
    public double standardDeviation() {
        return mean;
    }

    @Override
    public double cdf(double minutes) {
        return minutes <= 0 ? 0 : -Math.expm1(-minutes / mean);
    }

    @Override
    public double quantile(double probability) {
        return -mean * Math.log1p(-probability);
    }
}
