package org.earslot.review;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Attendance;
import org.earslot.ear.Method;
import org.earslot.review.figures.DayCounts;
import org.earslot.review.figures.DayFigures;
import org.earslot.review.figures.Dimension;
import org.earslot.review.figures.GroupSum;
import org.earslot.review.figures.GroupSums;
import org.earslot.review.figures.Indicators;
import org.earslot.review.figures.MeasuredVisit;
import org.earslot.review.figures.MeasuredVisits;
import org.earslot.review.figures.MetPlaces;
import org.earslot.review.figures.MonthTotals;
import org.earslot.review.figures.Promised;
import org.earslot.review.figures.Promises;
import org.earslot.review.figures.SessionMinutes;
import org.earslot.review.figures.WaitShares;
import org.earslot.review.figures.Waits;

/**
 * What one day's visits come to, in sums that make up a month. A list never goes past its day, so nothing of a day rests on
 * another's visits.
 *
 * @param figures none of them above 0 where nobody was booked
 * @param where by each dimension, in their order
 * @param promised by method and ears
 * @param withoutPromise visits with known times that carry no promise
 */
record DayPart(
        LocalDate date,
        MonthTotals figures,
        SessionMinutes sessions,
        DayCounts counts,
        List<GroupSums> where,
        Waits waits,
        List<MetPlaces> promised,
        int withoutPromise,
        Indicators indicators) {

    /**
     * @param listed the visits of the day that nobody cancelled
     * @param held the sessions of the day
     * @param turnaround minutes that a slot holds for making the room ready
     */
    static DayPart of(
            LocalDate date,
            List<MeasuredVisit> listed,
            MeasuredVisits.Cancelled cancelled,
            List<ClinicSession> held,
            ZoneId zone,
            ToIntFunction<Method> turnaround) {
        Waits.Shared shared = WaitShares.of(listed, held, zone);
        Promises promises = Promises.of(listed);
        return new DayPart(
                date,
                DayFigures.of(listed, held, zone, promises, turnaround).stream()
                        .map(DayFigures::figures)
                        .reduce(MonthTotals.NONE, MonthTotals::plus),
                SessionMinutes.of(listed, held, zone),
                counts(listed, cancelled),
                Arrays.stream(Dimension.values())
                        .map(by -> new GroupSums(by, GroupSum.of(by, listed, shared.byVisit(), zone)))
                        .toList(),
                shared.waits(),
                MetPlaces.of(Promised.met(listed, promises)),
                Promised.without(listed),
                Indicators.of(listed));
    }

    private static DayCounts counts(List<MeasuredVisit> listed, MeasuredVisits.Cancelled cancelled) {
        Map<Integer, Integer> slots = listed.stream()
                .filter(visit -> visit.slotMinutes() != null)
                .collect(Collectors.groupingBy(MeasuredVisit::slotMinutes, Collectors.summingInt(visit -> 1)));
        return new DayCounts(
                count(listed, visit -> visit.attendance() == Attendance.ATTENDED_LATE),
                count(listed, visit -> visit.seen() && !visit.timed()),
                count(listed, visit -> visit.seen() && visit.fitIn()),
                cancelled.byPatient(),
                cancelled.byClinic(),
                slots);
    }

    private static int count(List<MeasuredVisit> listed, Predicate<MeasuredVisit> which) {
        return (int) listed.stream().filter(which).count();
    }
}
