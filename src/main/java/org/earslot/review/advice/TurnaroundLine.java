package org.earslot.review.advice;

import java.util.List;
import org.earslot.ear.Method;

/**
 * How long a room takes to be made ready after a method: what slots and lists count on, and what a year's visits show.
 *
 * @param policyMinutes what slots and lists count on
 * @param found mean minutes from finished to room ready
 * @param margin the true mean lies within so many minutes of that, 95 times in 100
 * @param visits timed so
 * @param practitioners each one's own, by name
 */
public record TurnaroundLine(
        Method method, int policyMinutes, double found, double margin, int visits, List<By> practitioners) {

    /** Fewer timed visits than this say too little. */
    static final int ENOUGH = 30;

    public TurnaroundLine {
        practitioners = List.copyOf(practitioners);
    }

    /** One practitioner's mean minutes over so many visits. */
    public record By(String practitioner, double found, int visits) {}

    /** The whole minutes to count on. */
    public int advised() {
        return (int) Math.round(found);
    }

    /** Whether the policy's number is off by more than chance and rounding explain. */
    public boolean differs() {
        return visits >= ENOUGH
                && advised() != policyMinutes
                && Math.abs(found - policyMinutes) > Math.max(0.5, margin);
    }
}
