package org.earslot.exchange;

import java.time.Duration;
import java.time.LocalTime;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.estimate.PastVisit;
import org.earslot.estimate.PastVisit.PastEar;
import org.earslot.visit.EarRecord;
import org.jspecify.annotations.Nullable;

/** Lines of a visit log as the estimator learns from them. */
final class LoggedVisits {

    private LoggedVisits() {}

    /** The visit of a line; empty where it was not attended or not timed. Nothing is known of dominant hands. */
    static Optional<PastVisit> of(VisitLine line) {
        boolean seen = line.attendance() == Attendance.ATTENDED || line.attendance() == Attendance.ATTENDED_LATE;
        LocalTime calledIn = line.calledIn();
        LocalTime finished = line.finished();
        if (!seen || calledIn == null || finished == null) {
            return Optional.empty();
        }
        Set<Caution> cautions = EnumSet.noneOf(Caution.class);
        cautions.addAll(line.cautions());
        return Optional.of(new PastVisit(
                line.date(),
                line.practitioner(),
                null,
                line.patientRef(),
                null,
                line.methodPlanned(),
                line.ears(),
                line.firstVisit(),
                line.hearingAid(),
                Set.copyOf(cautions),
                line.softenerDays(),
                ear(line, Ear.RIGHT),
                ear(line, Ear.LEFT),
                line.stoppedEarly(),
                minutes(calledIn, finished),
                lateness(line.bookedStart(), calledIn)));
    }

    private static PastEar ear(VisitLine line, Ear ear) {
        EarRecord recorded = line.recorded(ear);
        return new PastEar(line.reported(ear), recorded.found(), recorded.methods());
    }

    private static double lateness(@Nullable LocalTime booked, LocalTime calledIn) {
        return booked == null ? 0 : Math.max(0, minutes(booked, calledIn));
    }

    private static double minutes(LocalTime from, LocalTime to) {
        return Duration.between(from, to).toSeconds() / 60.0;
    }
}
