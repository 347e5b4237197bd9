package org.earslot.estimate;

import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.minutes.MinutesDistribution;

/** From a time in room to a slot. */
public final class SlotLengths {

    private SlotLengths() {}

    /**
     * The slot in minutes: the time within which all but the accepted share of visits are over and the room is ready,
     * and what the policy gives such visits beyond it, up to the grid, within the policy's least and most.
     */
    public static int minutes(MinutesDistribution inRoom, Method method, Ears ears, PolicyTerms policy) {
        return of(needed(inRoom, method, policy) + policy.slotAdjustments().of(method, ears), policy);
    }

    /** The minutes within which all but the accepted share of visits are over and the room is ready. */
    public static double needed(MinutesDistribution inRoom, Method method, PolicyTerms policy) {
        return inRoom.quantile(1 - policy.acceptedOverrunShare()) + policy.turnaroundMinutes(method);
    }

    /** The slot that holds so many minutes: up to the grid, within the policy's least and most. */
    public static int of(double minutes, PolicyTerms policy) {
        // A hundredth of a minute over a grid line is no reason for a whole step more.
        long steps = (long) Math.ceil((minutes - 0.01) / policy.gridMinutes());
        long slot = Math.min(steps * policy.gridMinutes(), policy.mostSlotMinutes());
        return (int) Math.max(slot, policy.leastSlotMinutes());
    }
}
