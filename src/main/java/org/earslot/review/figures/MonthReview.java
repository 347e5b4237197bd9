package org.earslot.review.figures;

import java.time.YearMonth;
import java.util.List;
import org.earslot.estimate.ModelReport;

/**
 * The review of one month.
 *
 * @param reported how what was reported turned out, by the fit that estimates rested on when the review was read
 * @param trends the figures that lead, month by month
 */
public record MonthReview(
        YearMonth month,
        HeadLine head,
        List<Comparison> compared,
        List<GroupTable> where,
        Waits waits,
        EstimatedAndActual estimated,
        EstimatesOverTime overTime,
        List<ModelReport.Table> reported,
        Indicators indicators,
        Repeats repeats,
        RunCharts charts,
        List<Trend> trends) {

    public MonthReview {
        // Months closed by an earlier release have none of these.
        overTime = overTime == null ? EstimatesOverTime.NONE : overTime;
        reported = reported == null ? List.of() : List.copyOf(reported);
        trends = trends == null ? List.of() : List.copyOf(trends);
    }

    /** The groups of any kind that clearly overran more often than all other visits. */
    public List<Marked> marked() {
        return where.stream()
                .filter(table -> table.by() != Dimension.PRACTITIONER)
                .flatMap(table -> table.lines().stream()
                        .filter(line -> line.comparedWithTheRest().verdict() == Change.Verdict.MORE)
                        .map(line -> new Marked(table.by(), line)))
                .toList();
    }

    /** A group and what it is a group of. */
    public record Marked(Dimension by, GroupLine line) {}

    /** Whether there is nothing to review. */
    public boolean empty() {
        return head.visits() + head.didNotAttend() + head.lateNotSeen() == 0;
    }
}
