package org.earslot.review.figures;

import java.time.YearMonth;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * One figure of the head line over {@value #MONTHS} months.
 *
 * @param figure names it as in {@link Comparison.Line}
 * @param months the reviewed one last: shares from 0 to 1, minutes or weeks; null where nothing is known
 */
public record Trend(String figure, List<@Nullable Double> months) {

    public static final int MONTHS = 12;

    public Trend {
        months = Collections.unmodifiableList(months);
    }

    /** What is known of each month from {@code MONTHS - 1} before {@code last} to {@code last}. */
    public static List<Trend> upTo(
            YearMonth last, SortedMap<YearMonth, MonthSums> sums, Map<YearMonth, WeeksToAppointment> weeks) {
        Function<YearMonth, MonthTotals> totals = month -> sums.getOrDefault(month, MonthSums.NONE).days().stream()
                .map(DayFigures::figures)
                .reduce(MonthTotals.NONE, MonthTotals::plus);
        return List.of(
                of("late", last, ratio(totals, MonthTotals::late, MonthTotals::waits)),
                of("wait", last, ratio(totals, MonthTotals::waitSum, MonthTotals::waits)),
                of("overruns", last, ratio(totals, MonthTotals::overran, MonthTotals::measured)),
                of(
                        "weeks",
                        last,
                        month -> weeks.getOrDefault(month, WeeksToAppointment.NONE)
                                .median()),
                of("absent", last, ratio(totals, MonthTotals::absent, MonthTotals::expected)),
                of("overtime", last, ratio(totals, MonthTotals::overtime, MonthTotals::sessions)));
    }

    private static Trend of(String figure, YearMonth last, Function<YearMonth, @Nullable Double> value) {
        return new Trend(
                figure,
                Stream.iterate(last.minusMonths(MONTHS - 1L), month -> month.plusMonths(1))
                        .limit(MONTHS)
                        .map(value)
                        .toList());
    }

    private static Function<YearMonth, @Nullable Double> ratio(
            Function<YearMonth, MonthTotals> totals, ToDoubleFunction<MonthTotals> y, ToDoubleFunction<MonthTotals> n) {
        return month -> {
            MonthTotals sum = totals.apply(month);
            return n.applyAsDouble(sum) == 0 ? null : (Double) (y.applyAsDouble(sum) / n.applyAsDouble(sum));
        };
    }
}
