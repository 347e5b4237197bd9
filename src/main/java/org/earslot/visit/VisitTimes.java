package org.earslot.visit;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** The four times of a visit; null is "not known". */
public record VisitTimes(
        @Nullable Instant arrived,
        @Nullable Instant calledIn,
        @Nullable Instant finished,
        @Nullable Instant roomReady) {

    /** A longer span from called in to finished, or from finished to room ready, is implausible. */
    public static final Duration LONGEST = Duration.ofMinutes(180);

    /** What is wrong with the order or the spans, if anything. */
    Optional<VisitRefusal> refusal() {
        if (finished == null) {
            return roomReady == null ? Optional.empty() : Optional.of(VisitRefusal.NOT_FINISHED);
        }
        if (calledIn == null) {
            return Optional.of(VisitRefusal.NOT_CALLED_IN);
        }
        if (!finished.isAfter(calledIn)) {
            return Optional.of(VisitRefusal.FINISHED_NOT_AFTER_CALLED_IN);
        }
        if (roomReady != null && roomReady.isBefore(finished)) {
            return Optional.of(VisitRefusal.READY_BEFORE_FINISHED);
        }
        return tooLong(calledIn, finished) || roomReady != null && tooLong(finished, roomReady)
                ? Optional.of(VisitRefusal.SPAN_OUT_OF_REASON)
                : Optional.empty();
    }

    private static boolean tooLong(Instant from, Instant to) {
        return Duration.between(from, to).compareTo(LONGEST) > 0;
    }
}
