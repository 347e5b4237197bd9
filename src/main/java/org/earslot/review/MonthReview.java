package org.earslot.review;

import java.time.YearMonth;
import java.util.List;

/** The review of one month. */
public record MonthReview(
        YearMonth month,
        HeadLine head,
        List<Comparison> compared,
        List<GroupTable> where,
        Waits waits,
        Promised promised,
        Indicators indicators,
        Repeats repeats,
        RunCharts charts) {

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
