package org.earslot.review;

import java.time.YearMonth;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.Fits;
import org.earslot.estimate.ModelReport;
import org.earslot.review.figures.Comparison;
import org.earslot.review.figures.Correction;
import org.earslot.review.figures.EarsSeenAgain;
import org.earslot.review.figures.EstimatesOverTime;
import org.earslot.review.figures.HeadLine;
import org.earslot.review.figures.Milestones;
import org.earslot.review.figures.MonthFigures;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.MonthSums;
import org.earslot.review.figures.PastMonth;
import org.earslot.review.figures.PastMonths;
import org.earslot.review.figures.PlannedOverruns;
import org.earslot.review.figures.ReferralsBooked;
import org.earslot.review.figures.RunCharts;
import org.earslot.review.figures.Scope;
import org.earslot.review.figures.Trend;
import org.earslot.review.figures.WeeksToAppointment;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads months back. */
@Service
public class Reviews {

    private final PastMonths months;
    private final EarsSeenAgain seenAgain;
    private final ReferralsBooked referrals;
    private final Milestones milestones;
    private final Fits fits;
    private final ClosedMonths closedMonths;
    private final ClinicClock clock;

    Reviews(
            PastMonths months,
            EarsSeenAgain seenAgain,
            ReferralsBooked referrals,
            Milestones milestones,
            Fits fits,
            ClosedMonths closedMonths,
            ClinicClock clock) {
        this.months = months;
        this.seenAgain = seenAgain;
        this.referrals = referrals;
        this.milestones = milestones;
        this.fits = fits;
        this.closedMonths = closedMonths;
        this.clock = clock;
    }

    /** The last month that is over and had visits; this month if only this one has; empty if none ever had. */
    public Optional<YearMonth> latest(ClinicId clinicId, Scope whose) {
        return months.latest(clinicId, whose);
    }

    /** The month that the clinic's calendar shows now. */
    public YearMonth now(ClinicId clinicId) {
        return months.now(clinicId);
    }

    /** The month as it was closed, if it was. */
    @Transactional(readOnly = true)
    public Optional<ClosedMonth> closed(ClinicId clinicId, YearMonth month) {
        return closedMonths.find(clinicId, month);
    }

    /** Closes a month that is over: from now on the whole clinic's figures stay as they are now. */
    public Closing close(ClinicId clinicId, YearMonth month, String by) {
        if (!month.isBefore(now(clinicId))) {
            return Closing.STILL_RUNNING;
        }
        MonthReview figures = recorded(clinicId, month, Scope.EVERYONE);
        if (figures.empty()) {
            return Closing.EMPTY;
        }
        return closedMonths.store(clinicId, clock.now(), by, figures) ? Closing.CLOSED : Closing.CLOSED_BEFORE;
    }

    /** What has changed in the head line of a closed month since. */
    public List<Correction> corrections(ClinicId clinicId, ClosedMonth closed) {
        HeadLine now =
                recorded(clinicId, closed.figures().month(), Scope.EVERYONE).head();
        return Correction.between(closed.figures().head(), now);
    }

    /** The review of {@code month}: of the whole clinic as it was closed, if it was; a practitioner's own as it is now. */
    public MonthReview of(ClinicId clinicId, YearMonth month, Scope whose) {
        return whose.equals(Scope.EVERYONE)
                ? closed(clinicId, month).map(ClosedMonth::figures).orElseGet(() -> recorded(clinicId, month, whose))
                : recorded(clinicId, month, whose);
    }

    /** The review of {@code month} from the visits as they are recorded now. */
    private MonthReview recorded(ClinicId clinicId, YearMonth month, Scope whose) {
        YearMonth first = month.minusMonths(RunCharts.MONTHS - 1L);
        SortedMap<YearMonth, MonthSums> sums = new TreeMap<>();
        months.between(clinicId, first, month.minusMonths(1), whose)
                .forEach(earlier -> sums.put(earlier.month(), MonthSums.of(earlier)));
        PastMonth own = months.of(clinicId, month, whose);
        sums.put(month, MonthSums.of(own));
        MonthFigures figures = MonthFigures.of(own, months.cancelled(clinicId, month, whose));
        Map<YearMonth, WeeksToAppointment> weeks = weeks(clinicId, month, whose);
        Comparison.Side now = side(month, sums, weeks);
        double accepted = months.terms(clinicId, month).acceptedOverrunShare();
        return new MonthReview(
                month,
                figures.head().with(PlannedOverruns.of(now.days(), accepted), now.weeks()),
                List.of(
                        compared("month_before", month.minusMonths(1), sums, weeks, now),
                        compared("year_before", month.minusYears(1), sums, weeks, now)),
                figures.where(),
                figures.waits(),
                figures.estimated(),
                EstimatesOverTime.of(sums),
                whose.equals(Scope.EVERYONE) ? reported(clinicId) : List.of(),
                figures.indicators(),
                seenAgain.between(clinicId, month.atDay(1), month.atEndOfMonth(), whose),
                RunCharts.of(
                        sums.values().stream()
                                .flatMap(each -> each.days().stream())
                                .toList(),
                        milestones.between(clinicId, first.atDay(1), month.atEndOfMonth(), months.zone(clinicId))),
                Trend.upTo(month, sums, weeks));
    }

    private static Comparison compared(
            String with,
            YearMonth earlier,
            SortedMap<YearMonth, MonthSums> sums,
            Map<YearMonth, WeeksToAppointment> weeks,
            Comparison.Side now) {
        return Comparison.of(with, earlier, side(earlier, sums, weeks), now);
    }

    private static Comparison.Side side(
            YearMonth month, SortedMap<YearMonth, MonthSums> sums, Map<YearMonth, WeeksToAppointment> weeks) {
        return new Comparison.Side(sums.get(month).days(), weeks.get(month));
    }

    /** Of {@code month} and each of the twelve before it. */
    private Map<YearMonth, WeeksToAppointment> weeks(ClinicId clinicId, YearMonth month, Scope whose) {
        ZoneId zone = months.zone(clinicId);
        return Stream.iterate(month.minusYears(1), each -> !each.isAfter(month), each -> each.plusMonths(1))
                .collect(Collectors.toMap(each -> each, each -> referrals.in(clinicId, each, zone, whose)));
    }

    private List<ModelReport.Table> reported(ClinicId clinicId) {
        return fits.inForce(clinicId)
                .map(snapshot -> snapshot.learnt().tables())
                .orElse(List.of());
    }
}
