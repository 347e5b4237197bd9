package org.earslot.review;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.function.ToIntFunction;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Attendance;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Works out from its visits what one month comes to. */
@Component
class MonthWorkings {

    private final MeasuredVisits visits;

    MonthWorkings(MeasuredVisits visits) {
        this.visits = visits;
    }

    /**
     * @param held the sessions of the month
     * @param turnaround minutes that a slot holds for making the room ready
     */
    MonthPart of(
            UUID clinicId,
            YearMonth month,
            Whose whose,
            List<ClinicSession> held,
            ZoneId zone,
            ToIntFunction<Method> turnaround) {
        LocalDate first = month.atDay(1);
        LocalDate last = month.atEndOfMonth();
        List<MeasuredVisit> listed = visits.between(clinicId, first, last, whose);
        Waits.Shared shared = WaitShares.of(listed, held, zone);
        Promises promises = Promises.of(listed);
        List<Promised.Met> met = Promised.met(listed, promises);
        MonthSums sums = new MonthSums(DayFigures.of(listed, held, zone, promises, turnaround), PromisedPlaces.of(met));
        MonthFigures figures = new MonthFigures(
                head(
                        listed,
                        visits.cancelled(clinicId, first, last, whose, Attendance.CANCELLED_BY_PATIENT),
                        visits.cancelled(clinicId, first, last, whose, Attendance.CANCELLED_BY_CLINIC),
                        SessionMinutes.of(listed, held, zone)),
                Arrays.stream(Dimension.values())
                        .map(by -> GroupTable.of(by, listed, shared.byVisit(), zone))
                        .toList(),
                shared.waits(),
                Promised.of(listed, met),
                Indicators.of(listed));
        return new MonthPart(sums, figures);
    }

    private static HeadLine head(List<MeasuredVisit> listed, int byPatient, int byClinic, SessionMinutes sessions) {
        double[] waits = listed.stream()
                .flatMapToDouble(visit -> visit.waited().stream())
                .toArray();
        int late =
                (int) Arrays.stream(waits).filter(wait -> wait > HeadLine.LATE).count();
        return new HeadLine(
                count(listed, MeasuredVisit::seen),
                count(listed, visit -> visit.attendance() == Attendance.ATTENDED_LATE),
                count(listed, visit -> visit.attendance() == Attendance.LATE_NOT_SEEN),
                count(listed, visit -> visit.attendance() == Attendance.DID_NOT_ATTEND),
                byPatient,
                byClinic,
                count(listed, visit -> visit.seen() && !visit.timed()),
                count(listed, visit -> visit.seen() && visit.fitIn()),
                new Share(late, waits.length),
                waits.length == 0 ? null : Arrays.stream(waits).sum() / waits.length,
                GroupTable.overruns(listed.stream()
                        .filter(visit -> visit.over().isPresent())
                        .toList()),
                0,
                0,
                Change.NOT_KNOWN,
                sessions,
                WeeksToAppointment.NONE,
                usualSlot(listed));
    }

    private static @Nullable Integer usualSlot(List<MeasuredVisit> listed) {
        int[] slots = listed.stream()
                .filter(visit -> visit.slotMinutes() != null)
                .mapToInt(MeasuredVisit::slotMinutes)
                .sorted()
                .toArray();
        return slots.length == 0 ? null : slots[(slots.length - 1) / 2];
    }

    private static int count(List<MeasuredVisit> listed, Predicate<MeasuredVisit> which) {
        return (int) listed.stream().filter(which).count();
    }
}
