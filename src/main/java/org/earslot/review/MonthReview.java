package org.earslot.review;

import java.time.YearMonth;
import java.util.List;

/** The review of one month. */
public record MonthReview(YearMonth month, HeadLine head, List<GroupTable> where, Promised promised) {

    /** Whether waits were shared out to the visits that caused them. */
    public boolean waitsKnown() {
        return where.stream().flatMap(table -> table.lines().stream()).anyMatch(line -> line.waitsCaused() != null);
    }

    /** Whether there is nothing to review. */
    public boolean empty() {
        return head.visits() + head.didNotAttend() + head.lateNotSeen() == 0;
    }
}
