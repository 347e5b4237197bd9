package org.earslot.review.figures;

import java.util.List;

/**
 * How many overruns were planned: each visit counts with the chance, stored at booking, that it alone outlasts its slot;
 * one without such a number counts with the share that the policy accepts.
 *
 * @param share of the visits whose overrun can be told, 0 to 1
 * @param atBooking visits that carry their own number
 * @param beyond what happened less what was planned, as a share
 */
public record PlannedOverruns(double share, int atBooking, Change beyond) {

    /** @param accepted the share of overruns that the policy accepts */
    public static PlannedOverruns of(List<DayFigures> days, double accepted) {
        MonthTotals sum = days.stream().map(DayFigures::figures).reduce(MonthTotals.NONE, MonthTotals::plus);
        double share = sum.measured() == 0 ? accepted : planned(sum, accepted) / sum.measured();
        DayRatio beyond =
                DayRatio.of(days, figures -> figures.overran() - planned(figures, accepted), MonthTotals::measured);
        return new PlannedOverruns(share, sum.estimated(), beyond.sinceNothing());
    }

    private static double planned(MonthTotals figures, double accepted) {
        return figures.planned() + accepted * (figures.measured() - figures.estimated());
    }
}
