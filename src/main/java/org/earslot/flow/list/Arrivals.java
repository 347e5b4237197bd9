package org.earslot.flow.list;

import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.MinutesDistribution;

/**
 * When a patient comes: booked start - {@code leadMinutes} + {@code delay}. Time of day plays no part, nor does how
 * the list is running.
 *
 * @param leadMinutes how long before the booked start the earliest comer arrives; finite, at least 0
 * @param delay minutes after that earliest arrival
 */
public record Arrivals(double leadMinutes, MinutesDistribution delay) {

    private static final double A_DAY = 24 * 60;

    /** Everybody is there before being called: arrival never holds up a visit, nor shortens a wait. */
    public static final Arrivals EARLY = new Arrivals(A_DAY, new FixedMinutes(0));

    public Arrivals {
        Bounds.within("lead minutes", leadMinutes, 0, A_DAY);
    }

    /** Whether nobody ever arrives late enough to hold the list up. */
    public boolean neverHold() {
        return leadMinutes == A_DAY && delay.mean() == 0;
    }
}
