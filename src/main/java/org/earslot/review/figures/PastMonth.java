package org.earslot.review.figures;

import java.time.YearMonth;
import java.time.ZoneId;
import java.util.List;
import java.util.function.ToIntFunction;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Method;

/**
 * One month of a clinic or of one practitioner, with all that its figures follow from.
 *
 * @param visits booked in the month and not cancelled, by practitioner and booked start
 * @param estimates what was estimated for them at booking
 * @param held the sessions of the month
 * @param turnaround minutes that a slot holds for making the room ready
 */
public record PastMonth(
        YearMonth month,
        List<MeasuredVisit> visits,
        BookedEstimates estimates,
        List<ClinicSession> held,
        ZoneId zone,
        ToIntFunction<Method> turnaround) {

    /** The days on which anybody was booked, the earliest first. */
    List<DayFigures> days() {
        return DayFigures.of(visits, held, zone, estimates, turnaround).stream()
                .filter(day -> !day.figures().equals(MonthTotals.NONE))
                .toList();
    }

    /** The practitioners' lists, by day, practitioner and session. */
    public List<PastList> lists() {
        return PastList.of(visits, held, zone);
    }
}
