package org.earslot.invented;

import org.earslot.minutes.EmpiricalMinutes;

/**
 * The true distribution of one visit given what is told, as draws: two independent halves of the same size.
 *
 * <p>The least score on a set of draws is below the least score under the truth, since its quantile is chosen on those very
 * draws. The halves show by how much: a half's quantile scored on the other half is too high by as much as on its own it
 * is too low. So the floor carries no such bias, whatever the number of draws.
 */
public final class TrueTimes {

    private final EmpiricalMinutes first;
    private final EmpiricalMinutes second;
    private final EmpiricalMinutes whole;

    TrueTimes(EmpiricalMinutes first, EmpiricalMinutes second) {
        this.first = first;
        this.second = second;
        double[] times = new double[first.size() + second.size()];
        for (int i = 0; i < first.size(); i++) {
            times[i] = first.time(i);
        }
        for (int i = 0; i < second.size(); i++) {
            times[first.size() + i] = second.time(i);
        }
        whole = EmpiricalMinutes.of(times);
    }

    EmpiricalMinutes first() {
        return first;
    }

    EmpiricalMinutes second() {
        return second;
    }

    /** All draws. */
    public EmpiricalMinutes whole() {
        return whole;
    }

    /** Expected quantile score of setting aside {@code quantile} minutes: p (E T - q) + E max(0, q - T). */
    public double pinball(double quantile, double probability) {
        return pinball(whole, quantile, probability);
    }

    /** The least expected quantile score, minutes: what the perfect forecaster scores. */
    public double floor(double probability) {
        double one = first.quantile(probability);
        double other = second.quantile(probability);
        double apart = (pinball(second, one, probability) - pinball(second, other, probability))
                + (pinball(first, other, probability) - pinball(first, one, probability));
        // Half of "apart" is twice a half's bias; all draws together have half of a half's bias.
        return pinball(whole, whole.quantile(probability), probability) + apart / 8;
    }

    static double pinball(EmpiricalMinutes truth, double quantile, double probability) {
        return probability * (truth.mean() - quantile) + truth.meanBelow(quantile);
    }
}
