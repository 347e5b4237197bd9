package org.earslot.review.advice;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What other slots would have done to a month, by running its real lists again.
 *
 * @param visits whose slot would have been another
 * @param now the month run again with the slots as they were: the real waits
 * @param then with the other slots
 * @param noLongerFit booked patients for whom the session would have had no room
 * @param roomForMore visits of a usual slot for which there would have been room besides, in what comes free at the ends
 */
public record ReplayEffect(int visits, Run now, Run then, List<Unfit> noLongerFit, int roomForMore) {

    /**
     * The lists of the month as run.
     *
     * @param waits patients seen whose wait is told
     * @param late of them called in more than 10 minutes late
     * @param waitMinutes all waits together
     * @param overtimeMinutes past the sessions' ends, all together
     * @param idleMinutes inside the sessions
     */
    public record Run(int waits, int late, double waitMinutes, double overtimeMinutes, double idleMinutes) {

        /** Minutes; null where nobody's wait is told. */
        @JsonProperty
        public @Nullable Double meanWait() {
            return waits == 0 ? null : waitMinutes / waits;
        }
    }

    /** A booked visit that would no longer fit. */
    public record Unfit(
            String visitRef, LocalDate date, LocalTime bookedStart, String practitioner, String method, String ears) {}

    /** How many patients more (below 0: fewer) there would have been room for. */
    @JsonProperty
    public int patients() {
        return roomForMore - noLongerFit.size();
    }

    /** Minutes more of wait, below 0: less. */
    @JsonProperty
    public double addedWait() {
        return then.waitMinutes() - now.waitMinutes();
    }

    /** Minutes more of overtime, below 0: less. */
    @JsonProperty
    public double addedOvertime() {
        return then.overtimeMinutes() - now.overtimeMinutes();
    }

    /** Minutes more of idle time, below 0: less. */
    @JsonProperty
    public double addedIdle() {
        return then.idleMinutes() - now.idleMinutes();
    }
}
