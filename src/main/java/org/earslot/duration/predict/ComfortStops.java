package org.earslot.duration.predict;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/**
 * Stops for comfort or safety: an exponential hazard per minute of work, by kind, learnt as (stops + a) / (minutes + b)
 * from a gamma prior. A visit with parts of several kinds takes the mean of their hazards.
 */
public final class ComfortStops {

    private final Priors priors;
    private final Map<String, double[]> byKind = new TreeMap<>();

    public ComfortStops(Priors priors) {
        this.priors = priors;
    }

    /** Counts a past visit's minutes as exposure, and its stop if it had one, shared among its parts' kinds. */
    public void count(VisitRow row) {
        count(row, 1);
    }

    /** The same with the minutes {@code stretched}. */
    public void count(VisitRow row, double stretched) {
        List<Part> parts = row.terms().parts();
        double minutes = row.minutes() * row.weight() * stretched;
        double stop = row.ending() == Ending.STOPPED_FOR_COMFORT ? row.weight() : 0;
        for (Part part : parts) {
            count(part.kind(), minutes / parts.size(), stop / parts.size());
        }
        if (parts.isEmpty()) {
            count("", minutes, stop);
        }
    }

    /** Counts minutes of work of one kind, and stops in them. */
    public void count(String kind, double minutes, double stops) {
        double[] sums = byKind.computeIfAbsent(kind, any -> new double[2]);
        sums[0] += stops;
        sums[1] += minutes;
    }

    /** By kind: stops, and the minutes they came in. */
    Map<String, double[]> counts() {
        return byKind;
    }

    /** Stops per minute of a visit. */
    public double hazard(VisitTerms visit) {
        if (visit.parts().isEmpty()) {
            return hazard("");
        }
        double sum = 0;
        for (Part part : visit.parts()) {
            sum += hazard(part.kind());
        }
        return sum / visit.parts().size();
    }

    /** Stops per minute of work of one kind. */
    public double hazard(String kind) {
        Prior prior = priors.line(Place.STOP, kind, "-", "-");
        double[] sums = byKind.getOrDefault(kind, new double[2]);
        return (sums[0] + prior.spread()) / (sums[1] + prior.spread() / prior.value());
    }
}
