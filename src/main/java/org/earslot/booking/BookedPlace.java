package org.earslot.booking;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/**
 * A place in the diary: who, where, when and for how long.
 *
 * @param date the clinic's date at {@code start}
 * @param slotMinutes time in room and turnaround, 1 to 180
 */
public record BookedPlace(UUID practitionerId, UUID roomId, LocalDate date, Instant start, int slotMinutes) {

    /** Where the slot ends. */
    public Instant end() {
        return start.plus(Duration.ofMinutes(slotMinutes));
    }
}
