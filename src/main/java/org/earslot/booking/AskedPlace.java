package org.earslot.booking;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.UUID;

/**
 * A place that is asked for, by the clinic's wall clock.
 *
 * @param slotMinutes time in room and turnaround
 */
public record AskedPlace(UUID practitionerId, UUID roomId, LocalDateTime start, int slotMinutes) {

    /** The clinic's date. */
    public LocalDate date() {
        return start.toLocalDate();
    }
}
