package org.earslot.review.advice;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.estimate.SlotLengths;
import org.earslot.review.figures.Share;

/**
 * What the past visits of one kind say of its slot.
 *
 * @param taken the latest visits
 */
record SlotEvidence(List<Taken> taken) {

    /**
     * One visit.
     *
     * @param minutes from called in to room ready, time outside left out
     * @param cutForTime stopped for time: it would have lasted longer
     * @param needed minutes that its slot must hold by the policy in force, before what the policy gives its kind beyond
     */
    record Taken(double minutes, boolean cutForTime, double needed) {}

    /**
     * The share of visits that took longer than the slot they would get now, were {@code beyond} minutes given beyond the
     * estimate: by Kaplan and Meier on the minutes over the slot, since one stopped early at x is known to lie above x and no
     * more; written as so many of so many.
     */
    Share longer(PolicyTerms terms, int beyond) {
        return longer(one -> SlotLengths.of(one.needed() + beyond, terms));
    }

    /** The same against the slot before it is rounded up to the grid. */
    Share longerThanNeeded(PolicyTerms terms, int beyond) {
        return longer(
                one -> Math.max(terms.leastSlotMinutes(), Math.min(terms.mostSlotMinutes(), one.needed() + beyond)));
    }

    private Share longer(ToDoubleFunction<Taken> slot) {
        Over[] over = taken.stream()
                .map(one -> new Over(one.minutes() - slot.applyAsDouble(one), one.cutForTime()))
                .sorted(Comparator.comparingDouble(Over::minutes))
                .toArray(Over[]::new);
        double still = 1;
        int atRisk = over.length;
        for (Over one : over) {
            if (one.minutes() > 0) {
                break;
            }
            if (!one.cutForTime()) {
                still *= 1 - 1.0 / atRisk;
            }
            atRisk--;
        }
        return new Share((int) Math.round(still * over.length), over.length);
    }

    private record Over(double minutes, boolean cutForTime) {}

    /** Whether every slot would be the same, as where the policy's shortest or longest slot is reached. */
    boolean sameSlots(PolicyTerms terms, int beyond, int other) {
        return taken.stream()
                .allMatch(one ->
                        SlotLengths.of(one.needed() + beyond, terms) == SlotLengths.of(one.needed() + other, terms));
    }

    /** The slots such visits get, were {@code beyond} minutes given beyond the estimate: 10, 50 and 90 % points. */
    int[] slots(PolicyTerms terms, int beyond) {
        int[] slots = taken.stream()
                .mapToInt(one -> SlotLengths.of(one.needed() + beyond, terms))
                .sorted()
                .toArray();
        return Arrays.stream(new double[] {0.1, 0.5, 0.9})
                .mapToInt(point -> slots[(int) Math.round(point * (slots.length - 1))])
                .toArray();
    }
}
