package org.earslot.flow;

import java.time.LocalTime;
import java.util.Arrays;

/**
 * What is read off one row of the tally. Arrival is independent of the chair's time and of the common factor, so waits
 * and starts follow from the chair's distribution averaged over the nodes.
 */
final class Reading {

    private final Line line;
    private final Tally.Row row;
    private final double step;

    Reading(Line line, Tally.Row row, double step) {
        this.line = line;
        this.row = row;
        this.step = step;
    }

    Projection.Visit visit() {
        String name = line.place().name();
        if (row.finish.isEmpty()) {
            return new Projection.Visit(name, 0, null, null, 0, 0, 0);
        }
        Mass finish = row.finish.mass();
        Projection.Points finishes = points(new double[] {
            finish.quantile(0.1),
            finish.quantile(0.5),
            finish.quantile(0.8),
            finish.quantile(0.9),
            finish.quantile(0.95)
        });
        LocalTime booked = line.place().booked();
        double slotEnd = booked == null || line.place().slotMinutes() == 0
                ? Double.POSITIVE_INFINITY
                : Clock24.minutes(booked) + line.place().slotMinutes();
        double pastSlot =
                slotEnd == Double.POSITIVE_INFINITY ? 0 : row.ready.mass().above(slotEnd / step);
        return new Projection.Visit(name, line.attends(), starts(), finishes, meanWait(), longWait(), pastSlot);
    }

    /** Expected idle before this visit, the chance to attend included. */
    double idleMinutes() {
        if (row.finish.isEmpty()) {
            return 0;
        }
        double free = row.practitionerFree / row.weight;
        return line.attends() * Math.max(0, start().mean() - free) * step;
    }

    private Mass start() {
        if (line.place().wasCalledIn()) {
            return Mass.sure(line.calledIn(step));
        }
        return row.start.isEmpty() ? line.start(row.chair.mass()) : row.start.mass();
    }

    private Projection.Points starts() {
        return points(startQuantiles(0.1, 0.5, 0.8, 0.9, 0.95));
    }

    private Projection.Points points(double[] cells) {
        return new Projection.Points(time(cells[0]), time(cells[1]), time(cells[2]), time(cells[3]), time(cells[4]));
    }

    /** In minutes: E[(chair - due)+], over the times the wait may count from. */
    private double meanWait() {
        if (!Double.isNaN(row.meanWait)) {
            return row.meanWait / row.weight;
        }
        Mass from = waitsFrom();
        if (from.isSure()) {
            return calledAfter(from.sure) * step;
        }
        double sum = 0;
        for (int i = 0; i < from.p.length; i++) {
            sum += from.p[i] * calledAfter(from.first + i);
        }
        return sum * step;
    }

    private double longWait() {
        if (!Double.isNaN(row.longWait)) {
            return row.longWait / row.weight;
        }
        return waitAbove(Projection.LONG_WAIT_MINUTES);
    }

    /** P(wait > minutes). */
    double waitAbove(double minutes) {
        double limit = minutes / step;
        Mass from = waitsFrom();
        if (from.isSure()) {
            return isCalledAfter(from.sure + limit);
        }
        double sum = 0;
        for (int i = 0; i < from.p.length; i++) {
            sum += from.p[i] * isCalledAfter(from.first + i + limit);
        }
        return sum;
    }

    /**
     * E[(max(chair, floor) - x)+], the floor not laid on the grid: split between two cells it would seem to cause a wait.
     */
    private double calledAfter(double x) {
        if (line.place().wasCalledIn()) {
            return Math.max(0, line.calledIn(step) - x);
        }
        double later = Math.max(0, line.floor() - x);
        return later + row.chair.mass().excess(Math.max(x, line.floor()));
    }

    private double isCalledAfter(double x) {
        if (line.place().wasCalledIn()) {
            return line.calledIn(step) > x ? 1 : 0;
        }
        return line.floor() > x ? 1 : row.chair.mass().above(x);
    }

    /** When the patient is called in if there by then. */
    private Mass called() {
        if (line.place().wasCalledIn()) {
            return Mass.sure(line.calledIn(step));
        }
        return row.chair.mass().noEarlierThan(line.floor());
    }

    private Mass waitsFrom() {
        return line.arrival() == null ? Mass.sure(line.due()) : line.arrival().noEarlierThan(line.due());
    }

    /**
     * F(x) = F_chair(x) F_arrival(x) from the floor on. The floor itself may be likely (called in at the booked start),
     * so it is not smoothed into its neighbours.
     */
    private double[] startQuantiles(double... probabilities) {
        double[] found = new double[probabilities.length];
        if (!row.start.isEmpty()) {
            Mass start = row.start.mass();
            for (int i = 0; i < found.length; i++) {
                found[i] = start.quantile(probabilities[i]);
            }
            return found;
        }
        Mass chair = called();
        Mass unbound = line.place().wasCalledIn() ? chair : row.chair.mass();
        double floor = chair.isSure() ? chair.sure : line.floor();
        Mass arrival = line.place().wasCalledIn() ? null : line.arrival();
        if (arrival != null && arrival.isSure()) {
            floor = Math.max(floor, arrival.sure);
            arrival = null;
        }
        int from = (int) Math.floor(floor);
        int to = Math.max(chair.last(), arrival == null ? from : arrival.last()) + 1;
        double[] cdf = chair.isSure() ? filled(1, to - from + 1) : unbound.upToEach(from, to - from + 1);
        double[] comes = arrival == null ? filled(1, cdf.length) : arrival.upToEach(from, cdf.length);
        for (int i = 0; i < cdf.length; i++) {
            cdf[i] *= comes[i];
        }
        if (floor != from) {
            cdf[0] = (chair.isSure() ? 1 : 1 - unbound.above(floor)) * (arrival == null ? 1 : 1 - arrival.above(floor));
        }
        for (int i = 0; i < found.length; i++) {
            found[i] = crossing(cdf, probabilities[i], floor);
        }
        return found;
    }

    private static double[] filled(double value, int length) {
        double[] all = new double[length];
        Arrays.fill(all, value);
        return all;
    }

    private static double crossing(double[] cdf, double probability, double floor) {
        if (cdf[0] >= probability) {
            return floor;
        }
        int from = (int) Math.floor(floor);
        for (int i = 1; i < cdf.length; i++) {
            if (cdf[i] >= probability) {
                double left = i == 1 ? floor : from + i - 1;
                double part = (probability - cdf[i - 1]) / (cdf[i] - cdf[i - 1]);
                return left + part * (from + i - left);
            }
        }
        return from + cdf.length - 1;
    }

    private LocalTime time(double cells) {
        return Clock24.time(cells * step);
    }
}
