package org.earslot.review.figures;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Weeks from the day a referral was received to the day of its first appointment, for the referrals whose first
 * appointment was booked in a month: the median, with the range it lies in 19 times out of 20.
 *
 * <p>The range is that of the order statistics number k and n + 1 - k, k - 1 being the largest count with a binomial
 * probability (n, 1/2) of at most 0.025 to be reached or stayed below; with fewer than {@value #FEWEST} referrals there is
 * none. The standard error of the median is their distance over 2 z (McKean and Schrader, Communications in Statistics
 * B13:751, 1984, from memory).
 *
 * @param referrals booked in the month
 * @param median weeks; null without referrals
 * @param low weeks; null with too few referrals
 * @param high weeks; null with too few referrals
 */
public record WeeksToAppointment(
        int referrals,
        @Nullable Double median,
        @Nullable Double low,
        @Nullable Double high) {

    public static final WeeksToAppointment NONE = new WeeksToAppointment(0, null, null, null);

    /** With fewer no pair of order statistics holds the median 19 times out of 20. */
    static final int FEWEST = 6;

    private static final double WEEK = 7;

    /** A date tells the day, not the hour: half a day either way. */
    private static final double HALF_A_DAY = 0.5 / WEEK;

    /** @param days from received to appointment, the fewest first; below 0 where the dates are so recorded */
    static WeeksToAppointment of(List<Integer> days) {
        int n = days.size();
        if (n == 0) {
            return NONE;
        }
        double median = (days.get((n - 1) / 2) + days.get(n / 2)) / 2.0 / WEEK;
        int k = rank(n);
        return k == 0
                ? new WeeksToAppointment(n, median, null, null)
                : new WeeksToAppointment(n, median, days.get(k - 1) / WEEK, days.get(n - k) / WEEK);
    }

    /** k, from 1; 0 where there is none. */
    private static int rank(int n) {
        double logHalves = -n * Math.log(2);
        double logChoose = 0;
        double below = 0;
        int k = 0;
        while (k < n) {
            below += Math.exp(logChoose + logHalves);
            if (below > 0.025) {
                break;
            }
            k++;
            logChoose += Math.log(n - k + 1.0) - Math.log(k);
        }
        return k;
    }

    /** This less {@code before}: clear only if the 95 % range of the difference leaves out 0. */
    Change since(WeeksToAppointment before) {
        if (low == null || high == null || before.low == null || before.high == null) {
            return Change.NOT_KNOWN;
        }
        double by = median - before.median;
        double half = Math.hypot((high - low) / 2, (before.high - before.low) / 2) + HALF_A_DAY;
        return Change.of(by, by - half, by + half);
    }
}
