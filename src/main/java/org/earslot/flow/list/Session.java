package org.earslot.flow.list;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * The hours one practitioner works on one day.
 *
 * @param from the first visit is called in no earlier
 * @param to past it is overtime; after {@code from} on the same day (a session past midnight is refused)
 * @param breaks in the session, not overlapping; kept in order of time
 */
public record Session(LocalTime from, LocalTime to, List<Break> breaks) {

    public Session {
        breaks = breaks.stream().sorted(Comparator.comparing(Break::from)).toList();
        List<String> problems = new ArrayList<>();
        if (!to.isAfter(from)) {
            problems.add("the session is from " + from + " to " + to
                    + "; it must end after its start on the same day (split a session that passes midnight)");
        }
        LocalTime free = from;
        for (Break each : breaks) {
            if (each.from().isBefore(free) || each.to().isAfter(to)) {
                problems.add("a break is from " + each.from() + " to " + each.to() + "; give one inside " + from
                        + " to " + to + " that overlaps no other");
            }
            free = each.to();
        }
        if (!problems.isEmpty()) {
            throw new IllegalArgumentException(String.join("; ", problems));
        }
    }

    /** A session without breaks. */
    public static Session between(LocalTime from, LocalTime to) {
        return new Session(from, to, List.of());
    }

    /**
     * A session on a day of the clinic, refused where the clocks change within it, since there a minute of the clock is
     * not a minute of the list. Elsewhere on such a day the list runs by the clock as on any other.
     */
    public static Session on(LocalDate day, LocalTime from, LocalTime to, List<Break> breaks, ZoneId zone) {
        Duration passed =
                Duration.between(day.atTime(from).atZone(zone), day.atTime(to).atZone(zone));
        if (to.isAfter(from) && !passed.equals(Duration.between(from, to))) {
            throw new IllegalArgumentException("the clocks change on " + day + " between " + from + " and " + to
                    + "; give a session before or after the change");
        }
        return new Session(from, to, breaks);
    }

    /** The same with these breaks. */
    public Session withBreaks(Break... given) {
        return new Session(from, to, List.of(given));
    }

    /** Its start, in minutes after midnight. */
    public double fromMinutes() {
        return Clock24.minutes(from);
    }

    /** Its end, in minutes after midnight. */
    public double toMinutes() {
        return Clock24.minutes(to);
    }
}
