package org.earslot.diary;

import java.util.List;
import org.hipparchus.special.Erf;

/**
 * How a plan runs, by means and spreads alone: one pass forward in which the time the chair is free is taken as normal.
 *
 * <p>For X normal with mean m and variance v, and a fixed booked start b, with a = (m - b) / sqrt(v):
 * E[(X - b)+] = sqrt(v) (phi(a) + a Phi(a)) is the expected wait, and max(X, b) has mean b + that and second moment by
 * the same integrals (Clark 1961, from memory). A few hundred nanoseconds a visit, so that every free place of a
 * quarter can be tried; the few best are then computed in full.
 *
 * @param waits expected wait of each, minutes, in the order given
 * @param lateEnd chance that the last is ready past the end, 0 to 1
 */
record QuickRun(double[] waits, double lateEnd) {

    private static final double SQRT_2 = Math.sqrt(2);
    private static final double NORMAL_PEAK = 1 / Math.sqrt(2 * Math.PI);

    /**
     * One visit of the plan.
     *
     * @param start booked start, minutes after midnight
     * @param mean expected time in room and turnaround, minutes, at least 0
     * @param variance of that, at least 0
     */
    record Stop(double start, double mean, double variance) {}

    /**
     * @param stops by booked start
     * @param from the session's start, minutes after midnight
     * @param to its end
     */
    static QuickRun of(List<Stop> stops, double from, double to) {
        double[] waits = new double[stops.size()];
        double mean = from;
        double variance = 0;
        for (int i = 0; i < waits.length; i++) {
            Stop stop = stops.get(i);
            double sd = Math.sqrt(variance);
            if (sd < 1e-9) {
                waits[i] = Math.max(0, mean - stop.start());
                mean = stop.start() + waits[i] + stop.mean();
                variance = stop.variance();
                continue;
            }
            double a = (mean - stop.start()) / sd;
            double below = upTo(a);
            double peak = NORMAL_PEAK * Math.exp(-a * a / 2);
            waits[i] = sd * (peak + a * below);
            double square = variance * ((a * a + 1) * below + a * peak);
            variance = Math.max(0, square - waits[i] * waits[i]) + stop.variance();
            mean = stop.start() + waits[i] + stop.mean();
        }
        double sd = Math.sqrt(variance);
        double late = sd < 1e-9 ? (mean > to ? 1 : 0) : upTo((mean - to) / sd);
        return new QuickRun(waits, stops.isEmpty() ? 0 : late);
    }

    /** All waits together, minutes. */
    double totalWait() {
        double total = 0;
        for (double wait : waits) {
            total += wait;
        }
        return total;
    }

    private static double upTo(double score) {
        return 0.5 * Erf.erfc(-score / SQRT_2);
    }
}
