package org.earslot.review;

import org.jspecify.annotations.Nullable;

/**
 * The month in a few numbers.
 *
 * @param visits patients seen, among them {@code attendedLate}
 * @param untimed patients seen whose times are not known: they count here and nowhere below
 * @param fitIns patients seen without a slot
 * @param calledInLate called in more than 10 minutes late, of those whose wait is known
 * @param meanWait minutes; null where no wait is known
 * @param overruns visits that overran, of those whose overrun can be told
 * @param plannedOverruns the share of overruns that the policy accepts
 */
public record HeadLine(
        int visits,
        int attendedLate,
        int lateNotSeen,
        int didNotAttend,
        int cancelledByPatient,
        int cancelledByClinic,
        int untimed,
        int fitIns,
        Share calledInLate,
        @Nullable Double meanWait,
        Share overruns,
        double plannedOverruns,
        SessionMinutes sessions) {

    /** Called in later than this is called in late, minutes. */
    static final int LATE = 10;
}
