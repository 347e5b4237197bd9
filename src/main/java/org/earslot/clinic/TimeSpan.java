package org.earslot.clinic;

import java.time.Duration;
import java.time.LocalTime;

/** A stretch of a clinic's day, from the first time (included) to the second (excluded); never past midnight. */
public record TimeSpan(LocalTime from, LocalTime to) {

    public TimeSpan {
        if (!from.isBefore(to)) {
            throw new IllegalArgumentException("the time from " + from + " is not before " + to);
        }
    }

    /** Whether the two share more than an edge. */
    public boolean overlaps(TimeSpan other) {
        return from.isBefore(other.to) && other.from.isBefore(to);
    }

    /** Whether {@code other} lies wholly inside. */
    public boolean contains(TimeSpan other) {
        return !other.from.isBefore(from) && !other.to.isAfter(to);
    }

    /** Its length in whole minutes. */
    public int minutes() {
        return (int) Duration.between(from, to).toMinutes();
    }
}
