package org.earslot.booking;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/** What happened when, by the clinic's wall clock; null is not known or not yet. */
public record LocalClock(
        @Nullable LocalTime arrived,
        @Nullable LocalTime calledIn,
        @Nullable LocalTime finished,
        @Nullable LocalTime roomReady) {

    /** Whether each known time is no earlier on the clock than the one before. */
    boolean inOrder() {
        List<LocalTime> known = Stream.of(arrived, calledIn, finished, roomReady)
                .filter(Objects::nonNull)
                .toList();
        return known.equals(known.stream().sorted().toList());
    }

    /** The same times by the clock of {@code zone}. */
    public static LocalClock of(VisitTimes times, ZoneId zone) {
        return new LocalClock(
                local(times.arrived(), zone),
                local(times.calledIn(), zone),
                local(times.finished(), zone),
                local(times.roomReady(), zone));
    }

    private static @Nullable LocalTime local(@Nullable Instant instant, ZoneId zone) {
        return instant == null ? null : LocalDateTime.ofInstant(instant, zone).toLocalTime();
    }
}
