package org.earslot.review.figures;

import java.util.Arrays;
import java.util.List;
import java.util.function.Predicate;
import org.earslot.ear.Attendance;
import org.jspecify.annotations.Nullable;

/**
 * What the visits of one month say by themselves.
 *
 * @param head without what other months and the policy add
 */
public record MonthFigures(
        HeadLine head, List<GroupTable> where, Waits waits, EstimatedAndActual estimated, Indicators indicators) {

    public static MonthFigures of(PastMonth month, MeasuredVisits.Cancelled cancelled) {
        List<MeasuredVisit> visits = month.visits();
        Waits.Shared shared = WaitShares.of(visits, month.held(), month.zone());
        return new MonthFigures(
                head(month, cancelled),
                Arrays.stream(Dimension.values())
                        .map(by -> GroupTable.of(by, visits, shared.byVisit(), month.zone()))
                        .toList(),
                shared.waits(),
                EstimatedAndActual.of(
                        EstimatedAndActual.met(visits, month.estimates()), EstimatedAndActual.without(visits)),
                Indicators.of(visits));
    }

    private static HeadLine head(PastMonth month, MeasuredVisits.Cancelled cancelled) {
        List<MeasuredVisit> visits = month.visits();
        MonthTotals figures =
                month.days().stream().map(DayFigures::figures).reduce(MonthTotals.NONE, MonthTotals::plus);
        return new HeadLine(
                figures.seen(),
                count(visits, visit -> visit.attendance() == Attendance.ATTENDED_LATE),
                figures.lateNotSeen(),
                figures.absent(),
                cancelled.byPatient(),
                cancelled.byClinic(),
                count(visits, visit -> visit.seen() && !visit.timed()),
                count(visits, visit -> visit.seen() && visit.fitIn()),
                new Share(figures.late(), figures.waits()),
                figures.waits() == 0 ? null : figures.waitSum() / figures.waits(),
                new Share(figures.overran(), figures.measured()),
                0,
                0,
                Change.NOT_KNOWN,
                SessionMinutes.of(visits, month.held(), month.zone()),
                WeeksToAppointment.NONE,
                usualSlot(visits));
    }

    private static int count(List<MeasuredVisit> visits, Predicate<MeasuredVisit> which) {
        return (int) visits.stream().filter(which).count();
    }

    /** The lower middle one of the slots. */
    private static @Nullable Integer usualSlot(List<MeasuredVisit> visits) {
        List<Integer> slots = visits.stream()
                .map(MeasuredVisit::slotMinutes)
                .filter(minutes -> minutes != null)
                .sorted()
                .toList();
        return slots.isEmpty() ? null : slots.get((slots.size() - 1) / 2);
    }
}
