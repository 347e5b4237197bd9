package org.earslot.daysheet;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Progress;
import org.earslot.daysheet.DaySheet.Warning;

/** What to settle about a session as a whole. */
final class SessionWarnings {

    private SessionWarnings() {}

    static List<Warning> of(DaySchedule.Session session, Lane lane, PolicyTerms policy) {
        List<Warning> warnings = new ArrayList<>();
        String key = session.held().key();
        if (session.run().pastEnd() > policy.acceptedOvertimeShare()
                && !lane.open(session).isEmpty()) {
            LocalTime end = session.held().span().to();
            warnings.add(new Warning.EndsLate(end, session.run().pastEnd(), policy.acceptedOvertimeShare(), key));
        }
        List<Line> waiting = lane.seen().stream()
                .filter(line -> line.progress() == Progress.TO_COME)
                .filter(line -> session.run().of(line.id()).isPresent())
                .filter(line -> line.waitMinutes() > policy.waitLimitMinutes())
                .toList();
        Optional<Line> longest = waiting.stream().max(Comparator.comparingDouble(Line::waitMinutes));
        longest.ifPresent(line -> warnings.add(new Warning.LongWaits(
                waiting.size(), line.waitMinutes(), line.start(), policy.waitLimitMinutes(), key, warnings.isEmpty())));
        return warnings;
    }
}
