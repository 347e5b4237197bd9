package org.earslot.estimate.habits;

import java.util.TreeMap;
import org.earslot.ear.Answer;
import org.earslot.estimate.QuantileDistribution;
import org.earslot.minutes.MinutesDistribution;

/**
 * Who comes, and when: learnt from the clinic's visit log and drawn towards what is assumed of any clinic, the more so
 * the fewer visits there are.
 *
 * @param absentAtFirst chance that a booked first visit takes no time, since the patient does not attend or comes too
 *     late to be seen, 0 to 1
 * @param absentAtFollowUp the same of a follow-up
 * @param absent the same where it is not known which it is
 * @param sinceEarliest minutes from {@value #EARLIEST_MINUTES} minutes before the booked start to the arrival
 * @param restsOnVisits booked visits it was learnt from
 */
public record AttendanceModel(
        double absentAtFirst,
        double absentAtFollowUp,
        double absent,
        MinutesDistribution sinceEarliest,
        int restsOnVisits) {

    /** Nobody is taken to come earlier than this before the booked start, nor later than this after it. */
    public static final int EARLIEST_MINUTES = 60;

    /** Share that takes no time: from memory, the clinic's own assumption until its visits say otherwise. */
    private static final double ASSUMED_ABSENT = 0.06;
    /** Mean and spread of the arrival, minutes before the booked start: from memory, likewise. */
    private static final double ASSUMED_EARLY = 7;

    private static final double ASSUMED_SPREAD = 8;

    /** So many visits weigh as much as the assumption. */
    private static final double VISITS_OF_ABSENCE = 60;
    /** So many visits of one sort weigh as much as all visits together. */
    private static final double VISITS_OF_SORT = 150;

    private static final double VISITS_OF_ARRIVAL = 30;
    private static final double[] KEPT = {0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99};

    /** What is assumed of any clinic. */
    public static final AttendanceModel ASSUMED = of(AttendanceCounts.NONE);

    /**
     * Shares: (assumed x {@value #VISITS_OF_ABSENCE} + absent) / ({@value #VISITS_OF_ABSENCE} + booked) over all, then
     * each sort drawn to that by {@value #VISITS_OF_SORT} visits. Arrivals: the minutes seen, with
     * {@value #VISITS_OF_ARRIVAL} visits' worth of a normal spread as assumed.
     */
    static AttendanceModel of(AttendanceCounts seen) {
        double absent = (ASSUMED_ABSENT * VISITS_OF_ABSENCE + seen.absent()) / (VISITS_OF_ABSENCE + seen.booked());
        return new AttendanceModel(
                drawn(seen.firstAbsent(), seen.first(), absent),
                drawn(seen.followUpAbsent(), seen.followUp(), absent),
                absent,
                arrival(seen),
                seen.booked());
    }

    /** Chance that a booked visit takes no time. */
    public double absent(Answer firstVisit) {
        return switch (firstVisit) {
            case YES -> absentAtFirst;
            case NO -> absentAtFollowUp;
            case NOT_KNOWN -> absent;
        };
    }

    /** Mean minutes before the booked start at which patients come; below 0: after it. */
    public double meanEarly() {
        return EARLIEST_MINUTES - sinceEarliest.mean();
    }

    private static double drawn(int absent, int booked, double towards) {
        return (towards * VISITS_OF_SORT + absent) / (VISITS_OF_SORT + booked);
    }

    private static MinutesDistribution arrival(AttendanceCounts seen) {
        double[] weight = new double[2 * EARLIEST_MINUTES + 1];
        double assumed = 0;
        for (int i = 0; i < weight.length; i++) {
            double off = (i - EARLIEST_MINUTES + ASSUMED_EARLY) / ASSUMED_SPREAD;
            weight[i] = Math.exp(-off * off / 2);
            assumed += weight[i];
        }
        double total = 0;
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < weight.length; i++) {
            weight[i] = weight[i] * VISITS_OF_ARRIVAL / assumed + seen.arrivedAt(i - EARLIEST_MINUTES);
            total += weight[i];
            sum += weight[i] * i;
            squares += weight[i] * i * i;
        }
        double mean = sum / total;
        return new QuantileDistribution(
                quantiles(weight, total), mean, Math.sqrt(Math.max(0.01, squares / total - mean * mean)));
    }

    /** Each minute's weight lies evenly over that minute. */
    private static TreeMap<Double, Double> quantiles(double[] weight, double total) {
        TreeMap<Double, Double> quantiles = new TreeMap<>();
        double before = 0;
        int i = 0;
        for (double probability : KEPT) {
            while (i < weight.length - 1 && before + weight[i] < probability * total) {
                before += weight[i++];
            }
            double part = weight[i] > 0 ? (probability * total - before) / weight[i] : 0;
            quantiles.put(probability, Math.max(0.01, i - 0.5 + part));
        }
        return quantiles;
    }
}
