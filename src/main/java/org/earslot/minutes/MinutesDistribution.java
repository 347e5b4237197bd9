package org.earslot.minutes;

/**
 * The distribution of a non-negative time in minutes.
 *
 * <p>Every implementation is immutable. For all {@code 0 < p < 1}: {@code cdf(quantile(p)) >= p}, and
 * {@code quantile} is the smallest such time.
 */
public interface MinutesDistribution {

    /** The mean, in minutes; finite, at least 0. */
    double mean();

    /** The standard deviation, in minutes; finite, at least 0. */
    double standardDeviation();

    /**
     * P(T <= minutes).
     *
     * @param minutes any number but NaN; below 0 gives 0
     * @throws IllegalArgumentException if {@code minutes} is NaN
     */
    double cdf(double minutes);

    /**
     * The smallest time t, in minutes, with P(T <= t) at least {@code probability}.
     *
     * @param probability in the open interval (0, 1)
     * @throws IllegalArgumentException outside of it, or if NaN
     */
    double quantile(double probability);

    /**
     * The distribution of T - passed, given that T > passed: what is left of a visit still going on.
     *
     * @param passed minutes passed, finite, at least 0
     * @throws IllegalArgumentException otherwise
     */
    default MinutesDistribution remainder(double passed) {
        return passed == 0 ? this : new RemainingTime(this, passed);
    }
}
