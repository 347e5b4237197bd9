package org.earslot.booking;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.UUID;
import org.earslot.clinic.TimeSpan;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * A booked place with the estimated length, as the search reads it: many at once, so no more than it needs.
 *
 * @param fitIn whether it holds no place, but will take time
 * @param firstVisit null where no referral says so
 */
public record HeldPlace(
        UUID id,
        UUID practitionerId,
        UUID roomId,
        LocalDate date,
        Instant start,
        int slotMinutes,
        @Nullable Method method,
        @Nullable String estimate,
        boolean fitIn,
        @Nullable Answer firstVisit) {

    public Instant end() {
        return start.plusSeconds(60L * slotMinutes);
    }

    /** The place by the wall clock; one taken over from elsewhere might run past midnight: the day ends before it. */
    public TimeSpan span(ZoneId zone) {
        LocalTime from = LocalTime.ofInstant(start, zone);
        LocalTime to = from.plusMinutes(Math.max(1, slotMinutes));
        return new TimeSpan(from, to.isAfter(from) ? to : LocalTime.MAX);
    }
}
