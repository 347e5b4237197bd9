package org.earslot.review.figures;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A figure week by week, with the limits that chance alone rarely passes. Limits as in the NIST/SEMATECH e-Handbook of
 * Statistical Methods: 6.3.3.2 for a share (p chart), 6.3.2.2 for single values (individuals chart).
 *
 * @param centre the middle line
 * @param points the weeks with any visit, the earliest first
 * @param signals what chance alone would rarely show
 */
public record RunChart(double centre, List<Point> points, List<Signal> signals) {

    /** So many weeks in a row on one side of the middle are a signal (Western Electric rules, e-Handbook 6.3.2). */
    static final int LONG_RUN = 8;

    /** The mean moving range of two is so many standard deviations of a normal value. */
    private static final double D2 = 1.128;

    /**
     * One week.
     *
     * @param week its Monday
     * @param of visits the value rests on
     */
    public record Point(LocalDate week, int of, double value, double low, double high) {}

    /** @param kind "above" or "below" the limits in one week, or a "run_above" or "run_below" from one week to another */
    public record Signal(String kind, LocalDate from, LocalDate to) {}

    /** The value of a week, and how many visits it rests on. */
    record Week(LocalDate monday, double sum, int of) {}

    /**
     * Shares: the middle is the share of all weeks together, the limits {@code p ± 3 sqrt(p (1 - p) / n)} within 0 and 1.
     *
     * @param weeks with counts as sums
     */
    static RunChart ofShares(List<Week> weeks) {
        int whole = weeks.stream().mapToInt(Week::of).sum();
        double p = whole == 0 ? 0 : weeks.stream().mapToDouble(Week::sum).sum() / whole;
        List<Point> points = new ArrayList<>();
        for (Week week : weeks) {
            double half = 3 * Math.sqrt(p * (1 - p) / week.of());
            points.add(new Point(
                    week.monday(), week.of(), week.sum() / week.of(), Math.max(0, p - half), Math.min(1, p + half)));
        }
        return new RunChart(p, points, signals(p, points));
    }

    /** Means of times: the middle is the mean of the weeks' means, the limits {@code ± 3 mean moving range / 1.128}. */
    static RunChart ofMeans(List<Week> weeks) {
        double[] values =
                weeks.stream().mapToDouble(week -> week.sum() / week.of()).toArray();
        double centre = Arrays.stream(values).average().orElse(0);
        double ranges = 0;
        for (int i = 1; i < values.length; i++) {
            ranges += Math.abs(values[i] - values[i - 1]);
        }
        double half = values.length < 2 ? 0 : 3 * ranges / (values.length - 1) / D2;
        List<Point> points = new ArrayList<>();
        for (int i = 0; i < values.length; i++) {
            Week week = weeks.get(i);
            points.add(new Point(week.monday(), week.of(), values[i], Math.max(0, centre - half), centre + half));
        }
        return new RunChart(centre, points, signals(centre, points));
    }

    private static List<Signal> signals(double centre, List<Point> points) {
        List<Signal> signals = new ArrayList<>();
        points.stream()
                .filter(point -> point.value() > point.high() || point.value() < point.low())
                .map(point -> new Signal(point.value() > point.high() ? "above" : "below", point.week(), point.week()))
                .forEach(signals::add);
        int start = 0;
        for (int i = 1; i <= points.size(); i++) {
            boolean goesOn = i < points.size() && side(points.get(i), centre) == side(points.get(start), centre);
            if (!goesOn) {
                int side = side(points.get(start), centre);
                if (side != 0 && i - start >= LONG_RUN) {
                    signals.add(new Signal(
                            side > 0 ? "run_above" : "run_below",
                            points.get(start).week(),
                            points.get(i - 1).week()));
                }
                start = i;
            }
        }
        return signals;
    }

    private static int side(Point point, double centre) {
        return Double.compare(point.value(), centre);
    }
}
