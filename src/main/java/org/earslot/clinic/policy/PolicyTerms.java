package org.earslot.clinic.policy;

import org.earslot.ear.Method;

/**
 * The terms of a policy as values.
 *
 * @param gridMinutes starts lie on this grid: 1, 5, 10 or 15
 * @param acceptedOverrunShare share of visits that may be ready later than the next booked start, in (0, 1)
 * @param acceptedOvertimeShare share of sessions that may end late, in (0, 1)
 * @param leastSlotMinutes shortest slot, 5 to 180
 * @param mostSlotMinutes longest slot, from the shortest to 180
 * @param waitLimitMinutes reception tells patients whose wait passes this, 0 to 180
 * @param earlyAllowanceMinutes how long before the booked start a patient may be called in, 0 to 60
 * @param tenDaysSoonerMinutes how long a patient would wait in the clinic to be seen ten days sooner, 0 to 180: what an
 *     early date weighs against a list that runs well
 * @param slotAdjustments what the slots of some kinds of visit are given beyond their estimates
 */
public record PolicyTerms(
        int gridMinutes,
        double acceptedOverrunShare,
        double acceptedOvertimeShare,
        int leastSlotMinutes,
        int mostSlotMinutes,
        int waitLimitMinutes,
        int earlyAllowanceMinutes,
        int irrigationTurnaroundMinutes,
        int microsuctionTurnaroundMinutes,
        int manualRemovalTurnaroundMinutes,
        int tenDaysSoonerMinutes,
        SlotAdjustments slotAdjustments) {

    /** The project's own assumption, to be set by the lead. */
    public static final int STARTING_TEN_DAYS_SOONER_MINUTES = 3;

    /** Every slot as estimated, an early date weighed as a clinic starts. */
    public PolicyTerms(
            int gridMinutes,
            double acceptedOverrunShare,
            double acceptedOvertimeShare,
            int leastSlotMinutes,
            int mostSlotMinutes,
            int waitLimitMinutes,
            int earlyAllowanceMinutes,
            int irrigationTurnaroundMinutes,
            int microsuctionTurnaroundMinutes,
            int manualRemovalTurnaroundMinutes) {
        this(
                gridMinutes,
                acceptedOverrunShare,
                acceptedOvertimeShare,
                leastSlotMinutes,
                mostSlotMinutes,
                waitLimitMinutes,
                earlyAllowanceMinutes,
                irrigationTurnaroundMinutes,
                microsuctionTurnaroundMinutes,
                manualRemovalTurnaroundMinutes,
                STARTING_TEN_DAYS_SOONER_MINUTES,
                SlotAdjustments.NONE);
    }

    /** The same with another share of sessions that may end late. */
    public PolicyTerms withAcceptedOvertimeShare(double share) {
        return with(acceptedOverrunShare, share, tenDaysSoonerMinutes, slotAdjustments);
    }

    /** The same with slots set by other terms. */
    public PolicyTerms with(SlotTerms slots) {
        return with(slots.acceptedOverrunShare(), acceptedOvertimeShare, tenDaysSoonerMinutes, slots.adjustments());
    }

    /** The same with another weight of an early date. */
    public PolicyTerms withTenDaysSoonerMinutes(int minutes) {
        return with(acceptedOverrunShare, acceptedOvertimeShare, minutes, slotAdjustments);
    }

    private PolicyTerms with(double overrunShare, double overtimeShare, int sooner, SlotAdjustments adjustments) {
        return new PolicyTerms(
                gridMinutes,
                overrunShare,
                overtimeShare,
                leastSlotMinutes,
                mostSlotMinutes,
                waitLimitMinutes,
                earlyAllowanceMinutes,
                irrigationTurnaroundMinutes,
                microsuctionTurnaroundMinutes,
                manualRemovalTurnaroundMinutes,
                sooner,
                adjustments);
    }

    /** The same with other minutes from finished to room ready after a method. */
    public PolicyTerms withTurnaround(Method method, int minutes) {
        return new PolicyTerms(
                gridMinutes,
                acceptedOverrunShare,
                acceptedOvertimeShare,
                leastSlotMinutes,
                mostSlotMinutes,
                waitLimitMinutes,
                earlyAllowanceMinutes,
                method == Method.IRRIGATION ? minutes : irrigationTurnaroundMinutes,
                method == Method.MICROSUCTION ? minutes : microsuctionTurnaroundMinutes,
                method == Method.MANUAL_REMOVAL ? minutes : manualRemovalTurnaroundMinutes,
                tenDaysSoonerMinutes,
                slotAdjustments);
    }

    /** Minutes from finished to room ready that a slot holds for {@code method}. */
    public int turnaroundMinutes(Method method) {
        return switch (method) {
            case IRRIGATION -> irrigationTurnaroundMinutes;
            case MICROSUCTION -> microsuctionTurnaroundMinutes;
            case MANUAL_REMOVAL -> manualRemovalTurnaroundMinutes;
        };
    }
}
