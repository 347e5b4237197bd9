package org.earslot.booking;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** What happened when; null is not known or not yet. */
public record ClockTimes(
        @Nullable Instant arrived,
        @Nullable Instant calledIn,
        @Nullable Instant finished,
        @Nullable Instant roomReady) {

    /** Nothing happened yet. */
    public static final ClockTimes NONE = new ClockTimes(null, null, null, null);

    /** Whether each known time follows the one before, called in strictly before finished. */
    public boolean inOrder() {
        return notAfter(arrived, calledIn)
                && notAfter(arrived, finished)
                && (calledIn == null || finished == null || calledIn.isBefore(finished))
                && notAfter(finished, roomReady);
    }

    /** Whether a time is missing that a later one needs. */
    public boolean hasGap() {
        return (finished != null && calledIn == null) || (roomReady != null && finished == null);
    }

    private static boolean notAfter(@Nullable Instant first, @Nullable Instant second) {
        return first == null || second == null || !first.isAfter(second);
    }
}
