package org.earslot.review.figures;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.UUID;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.jspecify.annotations.Nullable;

/**
 * A visit as the review reads it: booked, not cancelled.
 *
 * @param ready when the room was ready; where that was not recorded, when the visit was finished
 * @param outsideMinutes minutes between called in and called in again, where water or softener was left to work
 * @param mayLast until when the visit may last: the next booked start of the same practitioner on the same day, else the
 *     end of its own slot
 * @param wax what was found, in either ear; likewise canal and depth
 * @param estimated the estimate the slot was sized by, as it was kept
 */
public record MeasuredVisit(
        UUID id,
        String visitRef,
        LocalDate date,
        UUID practitionerId,
        String practitioner,
        @Nullable Attendance attendance,
        Method method,
        Ears ears,
        @Nullable String referrer,
        Set<Wax> wax,
        Set<Canal> canal,
        Set<Depth> depth,
        Set<Outcome> outcomes,
        boolean harmed,
        @Nullable Instant bookedStart,
        @Nullable Integer slotMinutes,
        boolean fitIn,
        @Nullable Instant arrived,
        @Nullable Instant calledIn,
        @Nullable Instant finished,
        @Nullable Instant ready,
        int outsideMinutes,
        @Nullable StoppedEarly stoppedEarly,
        @Nullable Instant mayLast,
        @Nullable String estimated) {

    /** Whether the patient was seen. */
    public boolean seen() {
        return attendance != null && attendance.wasSeen();
    }

    /** Whether the patient was seen, both times are known, and they leave some time in the room. */
    public boolean timed() {
        return seen()
                && calledIn != null
                && finished != null
                && ready != null
                && !ready.isBefore(finished)
                && minutes(calledIn, finished) > outsideMinutes;
    }

    /** Called in minus the later of booked start and arrival, in minutes; an early call is no wait. */
    public OptionalDouble waited() {
        if (!seen() || calledIn == null || (bookedStart == null && arrived == null)) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(Math.max(0, minutes(later(bookedStart, arrived), calledIn)));
    }

    /** Minutes that the room was ready later than it might last; 0 where it was in time; empty where there is no slot. */
    public OptionalDouble over() {
        if (!timed() || fitIn || mayLast == null || ready == null) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(Math.max(0, minutes(mayLast, ready)));
    }

    /** Minutes from called in to finished, without those the patient waited outside in between. */
    OptionalDouble inRoom() {
        if (!timed() || calledIn == null || finished == null) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(minutes(calledIn, finished) - outsideMinutes);
    }

    private static Instant later(@Nullable Instant one, @Nullable Instant other) {
        if (one == null || other == null) {
            return one == null ? Objects.requireNonNull(other) : one;
        }
        return one.isAfter(other) ? one : other;
    }

    private static double minutes(Instant from, Instant to) {
        return Duration.between(from, to).toMillis() / 60_000.0;
    }
}
