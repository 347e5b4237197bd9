package org.earslot.day;

import java.time.Duration;
import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Progress;
import org.earslot.day.DaySchedule.Session;
import org.jspecify.annotations.Nullable;

/**
 * How far behind a practitioner's list is, and when it is likely to end.
 *
 * @param behindMinutes by how much the next patient who is in time will be called in after the booked start; where nobody
 *     like that is left, by how much the one in the room is likely to overrun the slot; 0 where the list is in time
 * @param behind that patient; null where the list is in time
 * @param last the visit that is likely to end last
 * @param ends when: half of the time by then
 * @param planned when the session ends
 */
public record Pace(long behindMinutes, @Nullable Line behind, Line last, LocalTime ends, LocalTime planned) {

    /** Of the first session in which somebody is still to be seen. */
    static Optional<Pace> of(Lane lane, @Nullable LocalTime now) {
        return lane.sessions().stream()
                .map(session -> new Part(session, lane.open(session)))
                .filter(part -> !part.open().isEmpty())
                .findFirst()
                .flatMap(part -> of(part, lane, now));
    }

    private record Part(Session session, List<Line> open) {}

    private static Optional<Pace> of(Part part, Lane lane, @Nullable LocalTime now) {
        Optional<Line> next = lane.waiting().stream()
                .filter(line -> part.open().contains(line) && isInTime(line, now))
                .findFirst();
        Optional<Line> measured = next.or(() -> part.open().stream()
                .filter(line -> line.progress() == Progress.IN_ROOM && !line.fitIn())
                .findFirst());
        long behind = measured.map(line -> line.progress() == Progress.IN_ROOM
                        ? minutes(line.slotEnd(), line.expected().finishes())
                        : minutes(line.start(), line.expected().starts()))
                .orElse(0L);
        return part.open().stream()
                .filter(line -> line.expected().finishes() != null)
                .max(Comparator.comparing(line -> line.expected().finishes()))
                .map(last -> new Pace(
                        behind,
                        behind == 0 ? null : measured.orElse(null),
                        last,
                        last.expected().finishes(),
                        part.session().held().span().to()));
    }

    /** One who is late, or has no slot, does not tell how late the list is. */
    private static boolean isInTime(Line line, @Nullable LocalTime now) {
        boolean missing =
                now != null && line.progress() == Progress.TO_COME && line.due().isBefore(now);
        return !line.fitIn() && line.comesAt() == null && !line.hasNoTurn() && !missing;
    }

    private static long minutes(LocalTime planned, @Nullable LocalTime likely) {
        return likely == null
                ? 0
                : Math.max(0, Math.round(Duration.between(planned, likely).toSeconds() / 60.0));
    }
}
