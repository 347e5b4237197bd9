package org.earslot.clinic;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * A session on its day: practitioner x room x date x from-to, with its break.
 *
 * @param origin the weekly session or the exception it comes from
 */
public record ClinicSession(
        UUID origin, UUID practitionerId, UUID roomId, LocalDate date, TimeSpan span, Optional<TimeSpan> pause) {

    /** Names the session in the interface for programs: its origin and its date. */
    public String key() {
        return origin + "@" + date;
    }

    /** Whether {@code place} lies inside the session and clear of its break. */
    public boolean holds(TimeSpan place) {
        return span.contains(place) && pause.map(rest -> !rest.overlaps(place)).orElse(true);
    }
}
