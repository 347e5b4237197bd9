package org.earslot.invented;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.earslot.duration.knowledge.ElicitedMinutes;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;
import org.earslot.ear.Ear;

/** What somebody who knows an invented clinic says of it: the true medians and 90 % points by method and ears, rounded. */
public final class KnownQuantiles {

    /** Visits of the clinic that its quantiles are read from. */
    private static final int VISITS = 6_000;

    private KnownQuantiles() {}

    /**
     * Answers by method and ears.
     *
     * @param grid minutes they are rounded to
     * @param times what is said over what is true
     */
    public static List<ElicitedMinutes> of(long seed, int practitioners, int grid, double times) {
        record Kind(String method, int ears) {}
        Map<String, List<Double>> minutes = new TreeMap<>();
        Map<String, Kind> kinds = new TreeMap<>();
        for (InventedVisit visit :
                InventedClinic.of(seed, practitioners, VISITS).timedVisits()) {
            Kind kind = new Kind(
                    visit.told().method().code(), visit.told().ears().each().size());
            kinds.put(kind.toString(), kind);
            minutes.computeIfAbsent(kind.toString(), any -> new ArrayList<>())
                    .add(visit.truth().completion());
        }
        List<ElicitedMinutes> said = new ArrayList<>();
        kinds.forEach((name, kind) -> {
            double[] sorted = minutes.get(name).stream()
                    .mapToDouble(Double::doubleValue)
                    .sorted()
                    .toArray();
            double usual = rounded(times * sorted[sorted.length / 2], grid);
            double high = Math.max(usual + grid, rounded(times * sorted[sorted.length * 9 / 10], grid));
            said.add(new ElicitedMinutes(kind(kind.method(), kind.ears()), usual, high));
        });
        return said;
    }

    private static double rounded(double minutes, int grid) {
        return Math.max(grid, grid * Math.round(minutes / grid));
    }

    /** A visit of which the method and how many ears are known, nothing else. */
    public static VisitTerms kind(String method, int ears) {
        List<Part> parts = Arrays.stream(Ear.values())
                .limit(ears)
                .map(ear -> Part.planned(
                        ear.code(),
                        method,
                        Stream.of("wax", "canal", "depth", "occlusion", "softener")
                                .map(Term::unknown)
                                .toArray(Term[]::new)))
                .toList();
        return VisitTerms.of(List.of(Term.unknown("first_visit"), Term.unknown("hearing_aid")), parts, null);
    }
}
