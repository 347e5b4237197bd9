package org.earslot.booking;

import java.time.LocalTime;
import java.time.ZoneId;
import java.time.zone.ZoneOffsetTransition;
import java.util.Optional;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;

/** The stretch of a session in which no slot can lie because the clocks change, if they do. */
public final class ClockChange {

    private ClockChange() {}

    /** From a minute before the change, so that no slot ends on it, to where the clock goes on plainly. */
    public static Optional<TimeSpan> in(ClinicSession session, ZoneId zone) {
        ZoneOffsetTransition change = zone.getRules()
                .nextTransition(session.date().atStartOfDay(zone).toInstant().minusSeconds(1));
        if (change == null || !change.getDateTimeBefore().toLocalDate().equals(session.date())) {
            return Optional.empty();
        }
        LocalTime before = change.getDateTimeBefore().toLocalTime();
        LocalTime from = before.equals(LocalTime.MIN) ? before : before.minusMinutes(1);
        LocalTime to = change.isGap() ? change.getDateTimeAfter().toLocalTime() : before.plusMinutes(1);
        return Optional.of(new TimeSpan(from, to)).filter(session.span()::overlaps);
    }
}
