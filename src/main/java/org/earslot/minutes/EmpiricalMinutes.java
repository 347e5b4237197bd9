package org.earslot.minutes;

import java.util.Arrays;

/**
 * The distribution of times that were observed: each time carries a share of the probability.
 *
 * <p>{@code cdf} and {@code quantile} are exact step functions of the times; nothing is smoothed. Look-ups take
 * O(log n).
 */
public final class EmpiricalMinutes implements MinutesDistribution {

    private final double[] times;
    /** Probability up to and with {@code times[i]}; the last is exactly 1. */
    private final double[] upTo;
    /** Sum of share x time up to and with {@code times[i]}. */
    private final double[] partialMean;

    private final double variance;

    private EmpiricalMinutes(double[] times, double[] weights) {
        int n = times.length;
        Integer[] order = new Integer[n];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, (a, b) -> Double.compare(times[a], times[b]));
        double total = 0;
        for (double weight : weights) {
            total += weight;
        }
        this.times = new double[n];
        this.upTo = new double[n];
        this.partialMean = new double[n];
        double share = 0;
        double mean = 0;
        for (int i = 0; i < n; i++) {
            double weight = weights[order[i]] / total;
            this.times[i] = times[order[i]];
            share += weight;
            mean += weight * this.times[i];
            this.upTo[i] = Math.min(1, share);
            this.partialMean[i] = mean;
        }
        this.upTo[n - 1] = 1;
        double spread = 0;
        for (int i = 0; i < n; i++) {
            spread += weights[order[i]] / total * (this.times[i] - mean) * (this.times[i] - mean);
        }
        this.variance = spread;
    }

    /**
     * Each time with the same share.
     *
     * @param times at least one; finite, at least 0; any order; copied
     * @throws IllegalArgumentException otherwise
     */
    public static EmpiricalMinutes of(double[] times) {
        // Sorted beforehand, so that the sort by weight below finds nothing to do.
        double[] sorted = times.clone();
        Arrays.sort(sorted);
        double[] weights = new double[times.length];
        Arrays.fill(weights, 1);
        return of(sorted, weights);
    }

    /**
     * Each time with a share in proportion to its weight.
     *
     * @param times at least one; finite, at least 0; any order; copied
     * @param weights as many; finite, at least 0, with a sum above 0
     * @throws IllegalArgumentException otherwise
     */
    public static EmpiricalMinutes of(double[] times, double[] weights) {
        if (times.length == 0 || times.length != weights.length) {
            throw new IllegalArgumentException(times.length + " times and " + weights.length
                    + " weights; give at least one time and as many weights as times");
        }
        double total = 0;
        for (int i = 0; i < times.length; i++) {
            Domain.nonNegative("time " + i, times[i]);
            total += Domain.nonNegative("weight " + i, weights[i]);
        }
        if (!(total > 0)) {
            throw new IllegalArgumentException("the weights sum to " + total + "; give at least one above 0");
        }
        return new EmpiricalMinutes(times, weights);
    }

    @Override
    public double mean() {
        return partialMean[times.length - 1];
    }

    @Override
    public double standardDeviation() {
        return Math.sqrt(variance);
    }

    @Override
    public double cdf(double minutes) {
        Domain.notNan("minutes", minutes);
        int after = after(minutes);
        return after == 0 ? 0 : upTo[after - 1];
    }

    @Override
    public double quantile(double probability) {
        Domain.openUnit("probability", probability);
        int low = 0;
        int high = times.length - 1;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (upTo[middle] >= probability) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        return times[low];
    }

    /**
     * The mean shortfall E[max(0, minutes - T)], in minutes.
     *
     * @param minutes any number but NaN
     */
    public double meanBelow(double minutes) {
        Domain.notNan("minutes", minutes);
        int after = after(minutes);
        return after == 0 ? 0 : minutes * upTo[after - 1] - partialMean[after - 1];
    }

    /** How many different values are stored (equal times count each). */
    public int size() {
        return times.length;
    }

    /** The time at {@code index} in ascending order, from 0. */
    public double time(int index) {
        return times[index];
    }

    /** The index of the first time above {@code minutes}. */
    private int after(double minutes) {
        int low = 0;
        int high = times.length;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (times[middle] <= minutes) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }
}
