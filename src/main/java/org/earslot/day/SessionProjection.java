package org.earslot.day;

import java.time.LocalTime;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * How a practitioner's list of one session is expected to run.
 *
 * @param visits what is expected of each visit, by appointment
 * @param pastEnd chance that the session ends late, 0 to 1
 * @param overtimeMinutes expected
 * @param idleMinutes expected
 */
public record SessionProjection(
        Map<UUID, Expected> visits, double pastEnd, double overtimeMinutes, double idleMinutes) {

    /**
     * What is expected of one visit; the times are null where nobody will come.
     *
     * @param starts called in: half of the time by then
     * @param startsEarliest 1 in 10 by then
     * @param startsLatest 9 in 10 by then
     * @param finishes the patient leaves: half of the time by then
     * @param finishesLatest 19 in 20 by then
     * @param waitMinutes expected wait
     * @param longWait chance of a wait above 10 minutes
     * @param pastSlot chance of running past the slot
     */
    public record Expected(
            @Nullable LocalTime starts,
            @Nullable LocalTime startsEarliest,
            @Nullable LocalTime startsLatest,
            @Nullable LocalTime finishes,
            @Nullable LocalTime finishesLatest,
            double waitMinutes,
            double longWait,
            double pastSlot) {}

    public SessionProjection {
        visits = Map.copyOf(visits);
    }

    /** What is expected of the appointment, if it is of this list and takes time. */
    public Optional<Expected> of(UUID appointmentId) {
        return Optional.ofNullable(visits.get(appointmentId));
    }

    /** All expected waits together, minutes. */
    public double totalWait() {
        return visits.values().stream().mapToDouble(Expected::waitMinutes).sum();
    }
}
