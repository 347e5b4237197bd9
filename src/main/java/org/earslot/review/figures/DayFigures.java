package org.earslot.review.figures;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Attendance;
import org.earslot.ear.Method;

/** The figures of one clinic-local day. */
public record DayFigures(LocalDate date, MonthTotals figures) {

    /**
     * The days with any visit, the earliest first.
     *
     * @param held the sessions of these days
     * @param turnaround minutes that a slot holds for making the room ready
     */
    public static List<DayFigures> of(
            List<MeasuredVisit> visits,
            List<ClinicSession> held,
            ZoneId zone,
            BookedEstimates estimates,
            ToIntFunction<Method> turnaround) {
        Map<LocalDate, List<ClinicSession>> sessions =
                held.stream().collect(Collectors.groupingBy(ClinicSession::date));
        return visits.stream().collect(Collectors.groupingBy(MeasuredVisit::date)).entrySet().stream()
                .map(day -> new DayFigures(
                        day.getKey(),
                        figures(
                                day.getValue(),
                                sessions.getOrDefault(day.getKey(), List.of()),
                                zone,
                                estimates,
                                turnaround)))
                .sorted(Comparator.comparing(DayFigures::date))
                .toList();
    }

    private static MonthTotals figures(
            List<MeasuredVisit> visits,
            List<ClinicSession> held,
            ZoneId zone,
            BookedEstimates estimates,
            ToIntFunction<Method> turnaround) {
        SessionMinutes sessions = SessionMinutes.of(visits, held, zone);
        MonthTotals sum = new MonthTotals(
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                sessions.sessions(),
                sessions.overtime(),
                sessions.minutes(),
                sessions.minutes() - sessions.idle());
        for (MeasuredVisit visit : visits) {
            sum = sum.plus(one(visit, estimates, turnaround));
        }
        return sum;
    }

    private static MonthTotals one(MeasuredVisit visit, BookedEstimates estimates, ToIntFunction<Method> turnaround) {
        OptionalDouble waited = visit.waited();
        OptionalDouble over = visit.over();
        OptionalDouble planned =
                over.isEmpty() ? over : estimates.chanceToOutlastSlot(visit, turnaround.applyAsInt(visit.method()));
        return new MonthTotals(
                visit.seen() ? 1 : 0,
                visit.attendance() == Attendance.DID_NOT_ATTEND ? 1 : 0,
                visit.attendance() == Attendance.LATE_NOT_SEEN ? 1 : 0,
                waited.isPresent() ? 1 : 0,
                waited.orElse(0),
                waited.orElse(0) > HeadLine.LATE ? 1 : 0,
                over.isPresent() ? 1 : 0,
                over.orElse(0) > 0 ? 1 : 0,
                over.orElse(0),
                planned.isPresent() ? 1 : 0,
                planned.orElse(0),
                0,
                0,
                0,
                0);
    }
}
