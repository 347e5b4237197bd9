package org.earslot.diary;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** A booked place with the promised length, as the search reads it: many at once, so no more than it needs. */
public record HeldPlace(
        UUID id,
        UUID practitionerId,
        UUID roomId,
        LocalDate date,
        Instant start,
        int slotMinutes,
        @Nullable Method method,
        @Nullable String estimate) {}
