package org.earslot.clinic.policy;

/**
 * By what slots are set.
 *
 * @param acceptedOverrunShare share of visits that may be ready later than the next booked start, in (0, 1)
 * @param adjustments what some kinds of visit are given beyond their estimates
 */
public record SlotTerms(double acceptedOverrunShare, SlotAdjustments adjustments) {

    public SlotTerms {
        if (!(acceptedOverrunShare > 0 && acceptedOverrunShare < 1)) {
            throw new IllegalArgumentException("the accepted overrun share is " + acceptedOverrunShare
                    + "; give a number between 0 and 1, both excluded");
        }
    }

    /** Those of a policy. */
    public static SlotTerms of(PolicyTerms terms) {
        return new SlotTerms(terms.acceptedOverrunShare(), terms.slotAdjustments());
    }

    /** The same with another accepted share. */
    public SlotTerms accepting(double share) {
        return new SlotTerms(share, adjustments);
    }

    /** The same with other minutes for one kind. */
    public SlotTerms with(SlotKind kind, int minutes) {
        return new SlotTerms(acceptedOverrunShare, adjustments.with(kind, minutes));
    }
}
