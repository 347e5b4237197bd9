package org.earslot.review.advice;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.List;
import java.util.function.BiFunction;
import java.util.function.Supplier;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotAdjustments;
import org.earslot.review.figures.Share;
import org.hipparchus.special.Erf;

/**
 * What is advised for the slots of one kind of visit.
 *
 * @param beyond minutes beyond the estimate that are advised; those in force where nothing is
 * @param rose what speaks against a shorter slot
 */
public record SlotAdvice(Verdict verdict, int beyond, List<String> rose) {

    /** Fewer visits say nothing, however they came out; the project's own choice. */
    static final int FEWEST = 30;

    /** Nobody is advised to go farther than this at once, minutes. */
    private static final int FARTHEST = 30;

    /** What the evidence comes to. */
    public enum Verdict {
        /** No clear difference from what the policy accepts. */
        FITS("fits"),
        TOO_FEW("too_few"),
        TOO_SHORT("too_short"),
        TOO_LONG("too_long"),
        /** Clearly fewer take longer, since slots are rounded up to the grid: no fault of the slot. */
        ROUNDED("rounded"),
        /** Longer than needed, and left so: residual wax, stopped visits or adverse events rose, or are not known. */
        LEFT_LONG("left_long"),
        /** Clearly off, and no step of the grid within the policy's limits would be nearer. */
        NO_STEP("no_step");

        private final String code;

        Verdict(String code) {
            this.code = code;
        }

        /** Names the verdict in message files. */
        @JsonValue
        public String code() {
            return code;
        }
    }

    /**
     * A slot is wrong where the share of visits longer than it is clearly not the accepted one: the score interval leaves
     * that out, at a level which all kinds together keep in 19 of 20 months (1 - 0.05 / kinds, Bonferroni). Too short is
     * judged by the slot as it is booked, too long by the slot before it is rounded up to the grid. Advised is the step
     * of the grid at which that share comes nearest to the accepted one.
     *
     * @param kinds how many kinds are judged together, 1 or more
     * @param rose asked only where a shorter slot would be advised
     */
    static SlotAdvice of(SlotEvidence evidence, PolicyTerms terms, int now, int kinds, Supplier<List<String>> rose) {
        Share longer = evidence.longer(terms, now);
        if (longer.of() < FEWEST) {
            return new SlotAdvice(Verdict.TOO_FEW, now, List.of());
        }
        double accepted = terms.acceptedOverrunShare();
        double z = Math.sqrt(2) * Erf.erfInv(1 - 0.05 / kinds);
        if (longer.low(z) > accepted) {
            int nearest = nearest(terms, now, 1, evidence::longer, evidence);
            return new SlotAdvice(nearest == now ? Verdict.NO_STEP : Verdict.TOO_SHORT, nearest, List.of());
        }
        if (longer.high(z) >= accepted) {
            return new SlotAdvice(Verdict.FITS, now, List.of());
        }
        if (evidence.longerThanNeeded(terms, now).high(z) >= accepted) {
            return new SlotAdvice(Verdict.ROUNDED, now, List.of());
        }
        int nearest = nearest(terms, now, -1, evidence::longerThanNeeded, evidence);
        if (nearest == now) {
            return new SlotAdvice(Verdict.NO_STEP, now, List.of());
        }
        List<String> against = rose.get();
        return against.isEmpty()
                ? new SlotAdvice(Verdict.TOO_LONG, nearest, List.of())
                : new SlotAdvice(Verdict.LEFT_LONG, now, against);
    }

    /** Of two steps as near to the accepted share, the one with the shorter slots. */
    private static int nearest(
            PolicyTerms terms,
            int now,
            int direction,
            BiFunction<PolicyTerms, Integer, Share> longer,
            SlotEvidence evidence) {
        int nearest = now;
        double least = distance(longer.apply(terms, now), terms);
        int step = direction * terms.gridMinutes();
        for (int beyond = now + step;
                Math.abs(beyond - now) <= FARTHEST && Math.abs(beyond) <= SlotAdjustments.MOST;
                beyond += step) {
            if (evidence.sameSlots(terms, beyond - step, beyond)) {
                break;
            }
            double distance = distance(longer.apply(terms, beyond), terms);
            if (distance < least || (distance == least && direction < 0)) {
                least = distance;
                nearest = beyond;
            }
        }
        return nearest;
    }

    private static double distance(Share longer, PolicyTerms terms) {
        return Math.abs((double) longer.count() / longer.of() - terms.acceptedOverrunShare());
    }
}
