package org.earslot.exchange;

import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.Ear;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;

/** Stored visits as lines of a visit log. */
final class StoredLines {

    private StoredLines() {}

    /** The visit as a line; a visit that is still open is none yet. Times are given to the minute. */
    static Optional<VisitLine> line(Visit visit, String practitioner, @Nullable String room, ZoneId zone) {
        LocalTime calledIn = minute(visit.calledIn().orElse(null), zone);
        return visit.attendance()
                .map(attendance -> new VisitLine(
                        visit.visitRef(),
                        visit.patientRef(),
                        visit.date(),
                        practitioner,
                        room,
                        attendance,
                        visit.methodPlanned(),
                        visit.ears(),
                        visit.firstVisit(),
                        visit.hearingAid(),
                        List.copyOf(visit.cautions()),
                        visit.unknownCautions(),
                        visit.softenerDays().orElse(null),
                        Map.of(Ear.RIGHT, visit.reported(Ear.RIGHT), Ear.LEFT, visit.reported(Ear.LEFT)),
                        Map.of(Ear.RIGHT, visit.recorded(Ear.RIGHT), Ear.LEFT, visit.recorded(Ear.LEFT)),
                        minute(visit.bookedStart().orElse(null), zone),
                        visit.slotMinutes().orElse(null),
                        minute(visit.arrived().orElse(null), zone),
                        calledIn,
                        atLeastAMinute(calledIn, minute(visit.finished().orElse(null), zone)),
                        minute(visit.roomReady().orElse(null), zone),
                        visit.stoppedEarly().orElse(null),
                        visit.note().orElse(null)));
    }

    private static @Nullable LocalTime minute(@Nullable Instant at, ZoneId zone) {
        return at == null ? null : at.atZone(zone).toLocalTime().truncatedTo(ChronoUnit.MINUTES);
    }

    /** A log knows no visit of no length, so one that began and ended within a minute is given one. */
    private static @Nullable LocalTime atLeastAMinute(@Nullable LocalTime calledIn, @Nullable LocalTime finished) {
        return finished != null && finished.equals(calledIn) ? finished.plusMinutes(1) : finished;
    }
}
