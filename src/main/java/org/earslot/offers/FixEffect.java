package org.earslot.offers;

import org.earslot.flow.plan.Price;

/** What a fix would do for a session as a whole: as it is, and as it would be. */
public record FixEffect(DayFix fix, Price before, Price then) {

    /** Chance of a late end, in whole hundredths. */
    private static long late(Price price) {
        return Math.round(100 * price.pastEnd());
    }

    public long lateBefore() {
        return late(before);
    }

    public long lateThen() {
        return late(then);
    }

    /** All expected waits together, whole minutes. */
    public long waitBefore() {
        return Math.round(before.waitMinutes());
    }

    public long waitThen() {
        return Math.round(then.waitMinutes());
    }

    /** Whether a person can see that it helps: in the figures as they are shown. */
    public boolean helps() {
        return lateThen() < lateBefore() || (lateThen() == lateBefore() && waitThen() < waitBefore());
    }
}
