package org.earslot.review;

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
 */
public record Comparison(
        String with, YearMonth month, int visits, Change calledInLate, Change overruns, Change meanWait) {

    static Comparison of(String with, YearMonth earlier, List<DayFigures> before, List<DayFigures> now) {
        return new Comparison(
                with,
                earlier,
                before.stream().mapToInt(day -> day.figures().seen()).sum(),
                change(before, now, Figures::late, Figures::waits),
                change(before, now, Figures::overran, Figures::measured),
                change(before, now, Figures::waitSum, Figures::waits));
    }

    private static Change change(
            List<DayFigures> before, List<DayFigures> now, ToDoubleFunction<Figures> y, ToDoubleFunction<Figures> n) {
        return DayRatio.of(now, y, n).since(DayRatio.of(before, y, n));
    }
}
