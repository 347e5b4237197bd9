package org.earslot.review;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Predicate;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Policies;
import org.earslot.clinic.Policy;
import org.earslot.clinic.Sessions;
import org.earslot.ear.Attendance;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads months back. */
@Service
public class Reviews {

    private final MeasuredVisits visits;
    private final Sessions sessions;
    private final Policies policies;
    private final EarsSeenAgain seenAgain;
    private final ClosedMonths closedMonths;
    private final ClinicClock clock;

    Reviews(
            MeasuredVisits visits,
            Sessions sessions,
            Policies policies,
            EarsSeenAgain seenAgain,
            ClosedMonths closedMonths,
            ClinicClock clock) {
        this.visits = visits;
        this.sessions = sessions;
        this.policies = policies;
        this.seenAgain = seenAgain;
        this.closedMonths = closedMonths;
        this.clock = clock;
    }

    /** The last month that is over and had visits; this month where only this one has; empty where none ever had. */
    public Optional<YearMonth> latest(UUID clinicId, Whose whose) {
        LocalDate today = clock.today(clinicId);
        return visits.lastBefore(clinicId, today.withDayOfMonth(1), whose)
                .or(() -> visits.lastBefore(clinicId, today.plusDays(1), whose))
                .map(YearMonth::from);
    }

    /** The month that the clinic's calendar shows now. */
    public YearMonth now(UUID clinicId) {
        return YearMonth.from(clock.today(clinicId));
    }

    /** The month as it was closed, if it was. */
    @Transactional(readOnly = true)
    public Optional<ClosedMonth> closed(UUID clinicId, YearMonth month) {
        return closedMonths.find(clinicId, month);
    }

    /** Closes a month that is over: from now on the whole clinic's figures stay as they are now. */
    public Closing close(UUID clinicId, YearMonth month, String by) {
        if (!month.isBefore(now(clinicId))) {
            return Closing.STILL_RUNNING;
        }
        MonthReview figures = recorded(clinicId, month, Whose.EVERYONE);
        if (figures.empty()) {
            return Closing.EMPTY;
        }
        return closedMonths.keep(clinicId, clock.now(), by, figures) ? Closing.CLOSED : Closing.CLOSED_BEFORE;
    }

    /** What has changed in the head line of a closed month since. */
    @Transactional(readOnly = true)
    public List<Correction> corrections(UUID clinicId, ClosedMonth closed) {
        HeadLine now =
                recorded(clinicId, closed.figures().month(), Whose.EVERYONE).head();
        return Correction.between(closed.figures().head(), now);
    }

    /** The review of {@code month}: of the whole clinic as it was closed, if it was; a practitioner's own as it is now. */
    @Transactional(readOnly = true)
    public MonthReview of(UUID clinicId, YearMonth month, Whose whose) {
        return whose.equals(Whose.EVERYONE)
                ? closed(clinicId, month).map(ClosedMonth::figures).orElseGet(() -> recorded(clinicId, month, whose))
                : recorded(clinicId, month, whose);
    }

    /** The review of {@code month} from the visits as they are recorded now. */
    private MonthReview recorded(UUID clinicId, YearMonth month, Whose whose) {
        LocalDate first = month.atDay(1);
        LocalDate last = month.atEndOfMonth();
        ZoneId zone = clock.zone(clinicId);
        List<MeasuredVisit> listed = visits.between(clinicId, first, last, whose);
        List<ClinicSession> held = sessions.between(clinicId, first, last);
        Waits.Shared shared = WaitShares.of(listed, held, zone);
        List<DayFigures> days = visits.daysBetween(
                clinicId, month.minusMonths(RunCharts.MONTHS - 1).atDay(1), last, whose);
        return new MonthReview(
                month,
                head(clinicId, month, whose, listed, held),
                List.of(
                        compared("month_before", month.minusMonths(1), days, month),
                        compared("year_before", month.minusYears(1), days, month)),
                Arrays.stream(Dimension.values())
                        .map(by -> GroupTable.of(by, listed, shared.byVisit(), zone))
                        .toList(),
                shared.waits(),
                Promised.of(listed),
                Indicators.of(listed),
                seenAgain.between(clinicId, first, last, whose),
                RunCharts.of(days));
    }

    private static Comparison compared(String with, YearMonth earlier, List<DayFigures> days, YearMonth month) {
        return Comparison.of(with, earlier, of(days, earlier), of(days, month));
    }

    private static List<DayFigures> of(List<DayFigures> days, YearMonth month) {
        return days.stream()
                .filter(day -> YearMonth.from(day.date()).equals(month))
                .toList();
    }

    private HeadLine head(
            UUID clinicId, YearMonth month, Whose whose, List<MeasuredVisit> listed, List<ClinicSession> held) {
        LocalDate first = month.atDay(1);
        LocalDate last = month.atEndOfMonth();
        double[] waits = listed.stream()
                .flatMapToDouble(visit -> visit.waited().stream())
                .toArray();
        double planned = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms()
                .acceptedOverrunShare();
        return new HeadLine(
                count(listed, MeasuredVisit::seen),
                count(listed, visit -> visit.attendance() == Attendance.ATTENDED_LATE),
                count(listed, visit -> visit.attendance() == Attendance.LATE_NOT_SEEN),
                count(listed, visit -> visit.attendance() == Attendance.DID_NOT_ATTEND),
                visits.cancelled(clinicId, first, last, whose, Attendance.CANCELLED_BY_PATIENT),
                visits.cancelled(clinicId, first, last, whose, Attendance.CANCELLED_BY_CLINIC),
                count(listed, visit -> visit.seen() && !visit.timed()),
                count(listed, visit -> visit.seen() && visit.fitIn()),
                new Share(
                        (int) Arrays.stream(waits)
                                .filter(wait -> wait > HeadLine.LATE)
                                .count(),
                        waits.length),
                waits.length == 0 ? null : Arrays.stream(waits).sum() / waits.length,
                GroupTable.overruns(listed.stream()
                        .filter(visit -> visit.over().isPresent())
                        .toList()),
                planned,
                SessionMinutes.of(listed, held, clock.zone(clinicId)));
    }

    private static int count(List<MeasuredVisit> listed, Predicate<MeasuredVisit> which) {
        return (int) listed.stream().filter(which).count();
    }
}
