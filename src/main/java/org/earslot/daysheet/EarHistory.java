package org.earslot.daysheet;

import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.daysheet.DaySheet.LastTime;
import org.earslot.ear.Ear;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;

/** What was done to a patient's ears before. */
@Component
class EarHistory {

    private final Visits visits;

    EarHistory(Visits visits) {
        this.visits = visits;
    }

    /** For each of {@code ears} the last visit before {@code date} that recorded anything of it. */
    List<LastTime> lastTimes(ClinicId clinicId, String patientRef, List<Ear> ears, LocalDate date) {
        if (ears.isEmpty()) {
            return List.of();
        }
        List<Visit> before = visits.findByClinicIdAndPatientRefOrderByDateDesc(clinicId, patientRef).stream()
                .filter(visit -> visit.date().isBefore(date) && visit.wasSeen())
                .toList();
        List<LastTime> last = new ArrayList<>();
        for (Ear ear : ears) {
            before.stream()
                    .filter(visit -> !visit.recorded(ear).equals(EarRecord.EMPTY))
                    .findFirst()
                    .map(visit -> lastTime(ear, visit))
                    .ifPresent(last::add);
        }
        return last;
    }

    private static LastTime lastTime(Ear ear, Visit visit) {
        EarRecord recorded = visit.recorded(ear);
        return new LastTime(
                ear,
                visit.date(),
                recorded.methods(),
                visit.timeInRoom().map(Duration::toMinutes).orElse(null),
                recorded.found(),
                recorded.outcome(),
                recorded.adverseEvents());
    }
}
