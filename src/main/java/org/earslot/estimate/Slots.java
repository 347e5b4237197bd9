package org.earslot.estimate;

import org.earslot.clinic.PolicyTerms;
import org.earslot.ear.Method;
import org.earslot.minutes.MinutesDistribution;

/** From a time in room to a slot. */
final class Slots {

    private Slots() {}

    /**
     * The slot in minutes: the time within which all but the accepted share of visits are over and the room is ready,
     * up to the grid, within the policy's least and most.
     */
    static int minutes(MinutesDistribution inRoom, Method method, PolicyTerms policy) {
        double whole = inRoom.quantile(1 - policy.acceptedOverrunShare()) + policy.turnaroundMinutes(method);
        // A hundredth of a minute over a grid line is no reason for a whole step more.
        long steps = (long) Math.ceil((whole - 0.01) / policy.gridMinutes());
        long slot = Math.min(steps * policy.gridMinutes(), policy.mostSlotMinutes());
        return (int) Math.max(slot, policy.leastSlotMinutes());
    }
}
