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
        RunCharts charts) {

    /** Whether there is nothing to review. */
    public boolean empty() {
        return head.visits() + head.didNotAttend() + head.lateNotSeen() == 0;
    }
}
