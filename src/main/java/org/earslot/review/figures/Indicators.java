package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;

/**
 * What the trade asks of a month, by planned method: the first line is all visits, its method empty.
 *
 * @param lines methods without any visit seen are left out
 */
public record Indicators(List<Line> lines) {

    /**
     * One method.
     *
     * @param visits patients seen
     * @param residual visits that left residual wax in an ear, of those with an outcome recorded
     * @param notRemoved visits that did not remove the wax of an ear, of the same
     * @param stopped visits stopped for comfort, time or safety, of those where it is recorded whether
     * @param harmed visits with an adverse event, of all seen
     */
    public record Line(String method, int visits, Share residual, Share notRemoved, Share stopped, Share harmed) {}

    public static Indicators of(List<MeasuredVisit> visits) {
        List<MeasuredVisit> seen = visits.stream().filter(MeasuredVisit::seen).toList();
        List<Line> lines = new ArrayList<>();
        if (!seen.isEmpty()) {
            lines.add(line("", seen));
        }
        for (Method method : Method.values()) {
            List<MeasuredVisit> own =
                    seen.stream().filter(visit -> visit.method() == method).toList();
            if (!own.isEmpty()) {
                lines.add(line(method.code(), own));
            }
        }
        return new Indicators(lines);
    }

    private static Line line(String method, Collection<MeasuredVisit> seen) {
        List<MeasuredVisit> told =
                seen.stream().filter(visit -> !visit.outcomes().isEmpty()).toList();
        List<MeasuredVisit> asked =
                seen.stream().filter(visit -> visit.stoppedEarly() != null).toList();
        return new Line(
                method,
                seen.size(),
                with(told, Outcome.RESIDUAL),
                with(told, Outcome.NOT_REMOVED),
                new Share(
                        (int) asked.stream()
                                .filter(visit -> visit.stoppedEarly() != StoppedEarly.NO)
                                .count(),
                        asked.size()),
                new Share((int) seen.stream().filter(MeasuredVisit::harmed).count(), seen.size()));
    }

    private static Share with(List<MeasuredVisit> told, Outcome outcome) {
        return new Share(
                (int) told.stream()
                        .filter(visit -> visit.outcomes().contains(outcome))
                        .count(),
                told.size());
    }
}
