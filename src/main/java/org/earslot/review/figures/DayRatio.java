package org.earslot.review.figures;

import java.util.List;
import java.util.function.ToDoubleFunction;

/**
 * A share or a mean over visits whose days are drawn, not its visits: the visits of a day hang together, since one that
 * runs over delays the next. The ratio of the sums, r = sum y / sum n, with variance D/(D-1) sum (y - r n)^2 / (sum n)^2
 * over the D days (the ratio estimator of a cluster sample; Cochran, Sampling Techniques, 3rd ed. 1977, chapter 6).
 *
 * @param value r
 * @param variance of r
 * @param days D, those with n above 0
 */
record DayRatio(double value, double variance, int days) {

    /** With fewer days the variance is itself too uncertain for a comparison; the project's own choice. */
    static final int FEWEST_DAYS = 8;

    /**
     * @param y summed over a day's visits
     * @param n its visits
     */
    static DayRatio of(List<DayFigures> days, ToDoubleFunction<MonthTotals> y, ToDoubleFunction<MonthTotals> n) {
        List<MonthTotals> with = days.stream()
                .map(DayFigures::figures)
                .filter(figures -> n.applyAsDouble(figures) > 0)
                .toList();
        double whole = with.stream().mapToDouble(n).sum();
        double ratio = with.stream().mapToDouble(y).sum() / whole;
        double squares = with.stream()
                .mapToDouble(figures -> y.applyAsDouble(figures) - ratio * n.applyAsDouble(figures))
                .map(rest -> rest * rest)
                .sum();
        int count = with.size();
        return new DayRatio(ratio, squares / (whole * whole) * count / (count - 1), count);
    }

    /** This as a difference from nothing: clear only if its 95 % range leaves out 0. */
    Change sinceNothing() {
        return days < FEWEST_DAYS ? Change.NOT_KNOWN : change(value, variance);
    }

    /** This less {@code before}: clear only if the 95 % range of the difference leaves out 0. */
    Change since(DayRatio before) {
        if (days < FEWEST_DAYS || before.days < FEWEST_DAYS) {
            return Change.NOT_KNOWN;
        }
        return change(value - before.value, variance + before.variance);
    }

    private static Change change(double by, double variance) {
        double half = Share.Z * Math.sqrt(variance);
        return Change.of(by, by - half, by + half);
    }
}
