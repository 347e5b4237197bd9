package org.earslot.review.figures;

import java.time.YearMonth;
import java.util.List;
import java.util.function.ToDoubleFunction;

/**
 * A month against an earlier one.
 *
 * @param with "month_before" or "year_before"
 * @param visits seen in the earlier month
 * @param calledInLate difference of the shares called in more than 10 minutes late
 * @param overruns difference of the shares that overran
 * @param meanWait difference of the mean waits, minutes
 * @param weeks difference of the median weeks from referral to first appointment
 * @param visitsADay difference of the visits seen on a day with visits
 * @param didNotAttend difference of the shares that did not attend
 * @param overtime difference of the overtime of a session, minutes
 * @param idle difference of the idle time of a session, minutes
 * @param utilisation difference of the shares of session minutes used
 */
public record Comparison(
        String with,
        YearMonth month,
        int visits,
        Change calledInLate,
        Change overruns,
        Change meanWait,
        Change weeks,
        Change visitsADay,
        Change didNotAttend,
        Change overtime,
        Change idle,
        Change utilisation) {

    public Comparison {
        // Months closed by an earlier release have none of these.
        weeks = known(weeks);
        visitsADay = known(visitsADay);
        didNotAttend = known(didNotAttend);
        overtime = known(overtime);
        idle = known(idle);
        utilisation = known(utilisation);
    }

    private static Change known(Change change) {
        return change == null ? Change.NOT_KNOWN : change;
    }

    /** An earlier month, or this one, as it is compared. */
    public record Side(List<DayFigures> days, WeeksToAppointment weeks) {

        private int visits() {
            return days.stream().mapToInt(day -> day.figures().seen()).sum();
        }
    }

    public static Comparison of(String with, YearMonth earlier, Side before, Side now) {
        return new Comparison(
                with,
                earlier,
                before.visits(),
                change(before, now, MonthTotals::late, MonthTotals::waits),
                change(before, now, MonthTotals::overran, MonthTotals::measured),
                change(before, now, MonthTotals::waitSum, MonthTotals::waits),
                now.weeks().since(before.weeks()),
                change(before, now, MonthTotals::seen, figures -> figures.seen() > 0 ? 1 : 0),
                change(before, now, MonthTotals::absent, MonthTotals::expected),
                change(before, now, MonthTotals::overtime, MonthTotals::sessions),
                change(before, now, MonthTotals::idle, MonthTotals::sessions),
                change(before, now, MonthTotals::busyMinutes, MonthTotals::sessionMinutes));
    }

    private static Change change(
            Side before, Side now, ToDoubleFunction<MonthTotals> y, ToDoubleFunction<MonthTotals> n) {
        return DayRatio.of(now.days(), y, n).since(DayRatio.of(before.days(), y, n));
    }

    /**
     * One figure's difference.
     *
     * @param figure names it in message files
     */
    public record Line(String figure, Unit unit, Change change) {}

    /** Each difference, in the order of the head line. */
    public List<Line> lines() {
        return List.of(
                new Line("late", Unit.IN_HUNDRED, calledInLate),
                new Line("wait", Unit.MINUTES, meanWait),
                new Line("overruns", Unit.IN_HUNDRED, overruns),
                new Line("weeks", Unit.WEEKS, weeks),
                new Line("visitsADay", Unit.VISITS, visitsADay),
                new Line("absent", Unit.IN_HUNDRED, didNotAttend),
                new Line("overtime", Unit.MINUTES, overtime),
                new Line("idle", Unit.MINUTES, idle),
                new Line("utilisation", Unit.IN_HUNDRED, utilisation));
    }

    /** Those that clearly differ. */
    public List<Line> clear() {
        return lines().stream()
                .filter(line -> line.change().verdict() == Change.Verdict.MORE
                        || line.change().verdict() == Change.Verdict.LESS)
                .toList();
    }

    /** Whether anything can be said of any figure. */
    public boolean told() {
        return lines().stream().anyMatch(line -> line.change().verdict() != Change.Verdict.NOT_KNOWN);
    }
}
