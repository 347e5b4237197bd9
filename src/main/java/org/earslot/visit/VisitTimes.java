package org.earslot.visit;

import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** The four times of a visit; null is not known, or not yet. */
public record VisitTimes(
        @Nullable Instant arrived,
        @Nullable Instant calledIn,
        @Nullable Instant finished,
        @Nullable Instant roomReady) {

    /** Nothing happened yet. */
    public static final VisitTimes NONE = new VisitTimes(null, null, null, null);

    /** A longer span from called in to finished, or from finished to room ready, is implausible. */
    public static final Duration LONGEST = Duration.ofMinutes(180);

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

    /** Whether a span is longer than {@link #LONGEST}. */
    public boolean hasImplausibleSpan() {
        return tooLong(calledIn, finished) || tooLong(finished, roomReady);
    }

    private static boolean notAfter(@Nullable Instant first, @Nullable Instant second) {
        return first == null || second == null || !first.isAfter(second);
    }

    private static boolean tooLong(@Nullable Instant from, @Nullable Instant to) {
        return from != null && to != null && Duration.between(from, to).compareTo(LONGEST) > 0;
    }
}
