package org.earslot.clinic;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;

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

    /** The stretches of the session that neither {@code taken}, in any order, nor its break covers, by the clock. */
    public List<TimeSpan> free(Collection<TimeSpan> taken) {
        List<TimeSpan> free = new ArrayList<>();
        LocalTime at = span.from();
        for (TimeSpan block : Stream.concat(taken.stream(), pause.stream())
                .filter(span::overlaps)
                .sorted(Comparator.comparing(TimeSpan::from))
                .toList()) {
            if (block.from().isAfter(at)) {
                free.add(new TimeSpan(at, block.from()));
            }
            at = block.to().isAfter(at) ? block.to() : at;
        }
        if (at.isBefore(span.to())) {
            free.add(new TimeSpan(at, span.to()));
        }
        return free;
    }
}
