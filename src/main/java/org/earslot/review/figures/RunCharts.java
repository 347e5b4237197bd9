package org.earslot.review.figures;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.temporal.TemporalAdjusters;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * The run charts of 18 months up to the end of the reviewed one.
 *
 * @param overruns share of visits that overran
 * @param meanWait mean wait, minutes
 * @param milestones days of change that may show in them
 */
public record RunCharts(RunChart overruns, RunChart meanWait, List<Milestone> milestones) {

    /** So many months are shown. */
    public static final int MONTHS = 18;

    public RunCharts {
        // Months closed by an earlier release have none.
        milestones = milestones == null ? List.of() : List.copyOf(milestones);
    }

    public static RunCharts of(List<DayFigures> days, List<Milestone> milestones) {
        Map<LocalDate, MonthTotals> weeks = new TreeMap<>();
        for (DayFigures day : days) {
            LocalDate monday = day.date().with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
            weeks.merge(monday, day.figures(), MonthTotals::plus);
        }
        return new RunCharts(
                RunChart.ofShares(weeks.entrySet().stream()
                        .map(week -> new RunChart.Week(
                                week.getKey(),
                                week.getValue().overran(),
                                week.getValue().measured()))
                        .filter(week -> week.of() > 0)
                        .toList()),
                RunChart.ofMeans(weeks.entrySet().stream()
                        .map(week -> new RunChart.Week(
                                week.getKey(),
                                week.getValue().waitSum(),
                                week.getValue().waits()))
                        .filter(week -> week.of() > 0)
                        .toList()),
                milestones);
    }
}
