package org.earslot.review.figures;

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
 * @param plannedOverruns the share of them that was planned to outlast its slot: by the numbers stored at booking; where
 *     there are none, the share that the policy accepts
 * @param plannedAtBooking visits that carry such numbers
 * @param beyondPlan overruns less those planned, as a share
 * @param weeks from the referral to the first appointment
 * @param usualSlot half of the month's slots were as long or shorter, minutes; null without slots
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
        int plannedAtBooking,
        Change beyondPlan,
        SessionMinutes sessions,
        WeeksToAppointment weeks,
        @Nullable Integer usualSlot) {

    /** Called in later than this is called in late, minutes. */
    public static final int LATE = 10;

    public HeadLine {
        // Months closed by an earlier release have none of these.
        beyondPlan = beyondPlan == null ? Change.NOT_KNOWN : beyondPlan;
        weeks = weeks == null ? WeeksToAppointment.NONE : weeks;
    }

    /** The share of those who were to come that did not attend. */
    public Share absent() {
        return new Share(didNotAttend, visits + lateNotSeen + didNotAttend);
    }

    /** The same with what the policy, the month's days and its referrals add. */
    public HeadLine with(PlannedOverruns planned, WeeksToAppointment toAppointment) {
        return new HeadLine(
                visits,
                attendedLate,
                lateNotSeen,
                didNotAttend,
                cancelledByPatient,
                cancelledByClinic,
                untimed,
                fitIns,
                calledInLate,
                meanWait,
                overruns,
                planned.share(),
                planned.atBooking(),
                planned.beyond(),
                sessions,
                toAppointment,
                usualSlot);
    }
}
