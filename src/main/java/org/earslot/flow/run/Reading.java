package org.earslot.flow.run;

import java.time.LocalTime;
import org.earslot.flow.chance.Law;
import org.earslot.flow.chance.Quantile;
import org.earslot.flow.chance.Tally;
import org.earslot.flow.list.Clock24;
import org.jspecify.annotations.Nullable;

/**
 * What is read off one row of the tally. Arrival is independent of the chair's time and of the common factor, so waits
 * and starts follow from the chair's distribution averaged over the nodes.
 */
public final class Reading {

    private final Line line;
    private final Tally.Row row;
    private final double step;
    private @Nullable Law start;

    public Reading(Line line, Tally.Row row, double step) {
        this.line = line;
        this.row = row;
        this.step = step;
    }

    Projection.Visit visit() {
        String name = line.place().name();
        if (row.finish.isEmpty()) {
            return new Projection.Visit(name, 0, null, null, 0, 0, 0);
        }
        LocalTime booked = line.place().booked();
        double slotEnd = booked == null || line.place().slotMinutes() == 0
                ? Double.POSITIVE_INFINITY
                : Clock24.minutes(booked) + line.place().slotMinutes();
        double pastSlot =
                slotEnd == Double.POSITIVE_INFINITY ? 0 : row.ready.law().above(slotEnd / step);
        return new Projection.Visit(
                name, line.attends(), points(start()), points(row.finish.law()), meanWait(), longWait(), pastSlot);
    }

    /** Expected idle before this visit, the chance to attend included. */
    public double idleMinutes() {
        if (row.finish.isEmpty()) {
            return 0;
        }
        double free = row.practitionerFree / row.weight;
        return line.attends() * Math.max(0, start().mean() - free) * step;
    }

    private Law start() {
        Law known = start;
        if (known == null) {
            known = calledIn();
            start = known;
        }
        return known;
    }

    private Law calledIn() {
        if (line.place().wasCalledIn()) {
            return Law.sure(line.calledIn(step));
        }
        return row.start.isEmpty() ? line.start(row.chair.law()) : row.start.law();
    }

    private Projection.Points points(Law law) {
        Quantile quantile = new Quantile(law);
        return new Projection.Points(
                time(quantile.at(0.1)),
                time(quantile.at(0.5)),
                time(quantile.at(0.8)),
                time(quantile.at(0.9)),
                time(quantile.at(0.95)));
    }

    /** Expected if the patient attends; 0 where nobody will come. */
    public double waitMinutes() {
        return row.finish.isEmpty() ? 0 : meanWait();
    }

    /** In minutes: E[(chair - due)+], over the times the wait may count from. */
    private double meanWait() {
        if (!Double.isNaN(row.meanWait)) {
            return row.meanWait / row.weight;
        }
        return waitsFrom().expect(this::calledAfter) * step;
    }

    private double longWait() {
        if (!Double.isNaN(row.longWait)) {
            return row.longWait / row.weight;
        }
        return waitAbove(Projection.LONG_WAIT_MINUTES);
    }

    /** P(wait > minutes). */
    double waitAbove(double minutes) {
        return called().exceeds(waitsFrom(), minutes / step);
    }

    /** When the patient is called in if there by then. */
    private Law called() {
        return line.place().wasCalledIn()
                ? Law.sure(line.calledIn(step))
                : row.chair.law().noEarlierThan(line.floor());
    }

    /** E[(max(chair, floor) - x)+]. */
    private double calledAfter(double x) {
        if (line.place().wasCalledIn()) {
            return Math.max(0, line.calledIn(step) - x);
        }
        double later = Math.max(0, line.floor() - x);
        return later + row.chair.law().excess(Math.max(x, line.floor()));
    }

    private Law waitsFrom() {
        return line.arrival() == null ? Law.sure(line.due()) : line.arrival().noEarlierThan(line.due());
    }

    private LocalTime time(double cells) {
        return Clock24.time(cells * step);
    }
}
