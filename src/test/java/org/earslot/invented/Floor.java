package org.earslot.invented;

import org.earslot.minutes.EmpiricalMinutes;

/** What a forecast costs in the mean under the true distribution. */
public final class Floor {

    private Floor() {}

    /**
     * Expected quantile score, minutes: p (E T - q) + E max(0, q - T).
     *
     * @param truth the true distribution given what is told
     * @param quantile q, minutes
     * @param probability p
     */
    public static double pinball(EmpiricalMinutes truth, double quantile, double probability) {
        return probability * (truth.mean() - quantile) + truth.meanBelow(quantile);
    }
}
