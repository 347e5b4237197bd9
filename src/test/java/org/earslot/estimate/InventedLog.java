package org.earslot.estimate;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.ear.Answer;
import org.earslot.ear.Ear;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedVisit;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.BookedVisit;
import org.earslot.visit.ClockRecords;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Puts the visits of an invented clinic into the records; found by every test that starts the application. */
@Component
public class InventedLog {

    private final Visits visits;

    InventedLog(Visits visits) {
        this.visits = visits;
    }

    /** All timed visits of the clinic with this seed, done by P1 and P2 of {@code clinic}. */
    @Transactional
    public List<InventedVisit> keep(TestClinic clinic, long seed, int count) {
        List<InventedVisit> invented = InventedClinic.of(seed, 2, count).timedVisits();
        visits.saveAll(invented.stream().map(visit -> stored(clinic, visit)).toList());
        return invented;
    }

    /** What is asked before such a visit. */
    public static VisitPlan plan(TestClinic clinic, InventedVisit visit) {
        InventedVisit.Told told = visit.told();
        return new VisitPlan(
                "K" + told.patient(),
                told.practitioner() == 0 ? clinic.p1() : clinic.p2(),
                told.method(),
                told.ears(),
                told.firstVisit() ? Answer.YES : Answer.NO,
                told.hearingAid() ? Answer.YES : Answer.NO,
                told.cautions(),
                told.softenerDays(),
                told.reported(),
                "F" + told.referrer());
    }

    private static Visit stored(TestClinic clinic, InventedVisit invented) {
        InventedVisit.Told told = invented.told();
        InventedVisit.Kept kept = invented.kept();
        boolean first = told.practitioner() == 0;
        Visit visit = Visit.booked(new BookedVisit(
                clinic.id(),
                "V" + told.number(),
                "K" + told.patient(),
                told.date(),
                first ? clinic.p1() : clinic.p2(),
                first ? clinic.r1() : clinic.r2(),
                told.method(),
                told.ears(),
                told.firstVisit() ? Answer.YES : Answer.NO,
                told.hearingAid() ? Answer.YES : Answer.NO,
                Set.copyOf(told.cautions()),
                told.softenerDays(),
                "F" + told.referrer(),
                told.reported(),
                at(invented, told.bookedStart()),
                told.slot(),
                false,
                null,
                null));
        visit.write(ClockRecords.seen(at(invented, kept.calledIn()), at(invented, kept.finished())));
        visit.stop(kept.stopped());
        records(kept).forEach(visit::recordFindings);
        return visit;
    }

    private static Map<Ear, EarRecord> records(InventedVisit.Kept kept) {
        Map<Ear, EarRecord> records = new EnumMap<>(Ear.class);
        kept.found()
                .forEach((ear, found) -> records.put(
                        ear,
                        new EarRecord(
                                kept.used().getOrDefault(ear, List.of()),
                                found,
                                kept.outcomes().get(ear),
                                null)));
        return records;
    }

    private static Instant at(InventedVisit visit, int minuteOfDay) {
        return visit.told()
                .date()
                .atStartOfDay()
                .plusMinutes(minuteOfDay)
                .atOffset(ZoneOffset.UTC)
                .toInstant();
    }
}
