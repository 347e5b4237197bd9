package org.earslot.flow.run;

import java.time.LocalTime;
import org.earslot.flow.chance.MixedDistribution;
import org.earslot.flow.chance.Quantile;
import org.earslot.flow.list.Clock24;
import org.jspecify.annotations.Nullable;

/**
 * What is read off one row of the tally. Arrival is independent of the chair's time and of the common factor, so waits
 * and starts follow from the chair's distribution averaged over the nodes.
 */
public final class ProjectionRecorder {

    private final PreparedPlace preparedPlace;
    private final CostAccumulator.Row row;
    private final double step;
    private @Nullable MixedDistribution start;

    public ProjectionRecorder(PreparedPlace preparedPlace, CostAccumulator.Row row, double step) {
        this.preparedPlace = preparedPlace;
        this.row = row;
        this.step = step;
    }

    Projection.Visit visit() {
        String name = preparedPlace.place().name();
        if (row.finish.isEmpty()) {
            return new Projection.Visit(name, 0, null, null, 0, 0, 0);
        }
        LocalTime booked = preparedPlace.place().booked();
        double slotEnd = booked == null || preparedPlace.place().slotMinutes() == 0
                ? Double.POSITIVE_INFINITY
                : Clock24.minutes(booked) + preparedPlace.place().slotMinutes();
        double pastSlot =
                slotEnd == Double.POSITIVE_INFINITY ? 0 : row.ready.law().above(slotEnd / step);
        return new Projection.Visit(
                name,
                preparedPlace.attends(),
                points(start()),
                points(row.finish.law()),
                meanWait(),
                longWait(),
                pastSlot);
    }

    /** Expected idle before this visit, the chance to attend included. */
    public double idleMinutes() {
        if (row.finish.isEmpty()) {
            return 0;
        }
        double free = row.practitionerFree / row.weight;
        return preparedPlace.attends() * Math.max(0, start().mean() - free) * step;
    }

    private MixedDistribution start() {
        MixedDistribution known = start;
        if (known == null) {
            known = calledIn();
            start = known;
        }
        return known;
    }

    private MixedDistribution calledIn() {
        if (preparedPlace.place().wasCalledIn()) {
            return MixedDistribution.sure(preparedPlace.calledIn(step));
        }
        return row.start.isEmpty() ? preparedPlace.start(row.chair.law()) : row.start.law();
    }

    private Projection.Points points(MixedDistribution law) {
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
    private MixedDistribution called() {
        return preparedPlace.place().wasCalledIn()
                ? MixedDistribution.sure(preparedPlace.calledIn(step))
                : row.chair.law().noEarlierThan(preparedPlace.floor());
    }

    /** E[(max(chair, floor) - x)+]. */
    private double calledAfter(double x) {
        if (preparedPlace.place().wasCalledIn()) {
            return Math.max(0, preparedPlace.calledIn(step) - x);
        }
        double later = Math.max(0, preparedPlace.floor() - x);
        return later + row.chair.law().excess(Math.max(x, preparedPlace.floor()));
    }

    private MixedDistribution waitsFrom() {
        return preparedPlace.arrival() == null
                ? MixedDistribution.sure(preparedPlace.due())
                : preparedPlace.arrival().noEarlierThan(preparedPlace.due());
    }

    private LocalTime time(double cells) {
        return Clock24.time(cells * step);
    }
}
