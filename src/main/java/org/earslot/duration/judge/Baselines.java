package org.earslot.duration.judge;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.EmpiricalMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;

/**
 * What a clinic could do without an estimator; the estimator must beat these on the same past.
 *
 * <p>Both read past times only. Visits stopped early are taken as lower bounds: the share of each goes, in equal parts, to the
 * longer times (Kaplan and Meier 1958); what is left at the end stays at the longest time. Times of another unit than
 * minutes are fine once there are visits.
 */
public final class Baselines {

    /** Fewer completed visits than this in a cell say less than all visits together. */
    static final int ENOUGH = 20;

    /** Before any visit: a usual slot of 20 minutes, give or take a half (from memory, an assumption). */
    static final MinutesDistribution BEFORE_ANY = new LogNormalMinutes(Math.log(20), 0.45);

    private Baselines() {}

    /** One slot for everybody: the quantiles of all past times, the best that a fixed slot can be. */
    public static Estimator fixedSlot() {
        return rows -> learn(rows, false);
    }

    /**
     * Quantiles of the past times of visits with the same kinds of parts, and as many of each: by method and ears. A cell
     * with fewer than 20 completed visits falls back on all visits.
     */
    public static Estimator quantilesByKind() {
        return rows -> learn(rows, true);
    }

    private static FittedModel learn(Iterable<VisitRow> rows, boolean byKind) {
        List<VisitRow> visits = new ArrayList<>();
        rows.forEach(visits::add);
        Map<String, MinutesDistribution> cells = new HashMap<>();
        if (byKind) {
            visits.stream()
                    .collect(Collectors.groupingBy(row -> cell(row.terms())))
                    .forEach((cell, members) -> {
                        if (members.stream().filter(row -> !row.stoppedEarly()).count() >= ENOUGH) {
                            cells.put(cell, times(members));
                        }
                    });
        }
        MinutesDistribution all = visits.isEmpty() ? BEFORE_ANY : times(visits);
        long stoppedEarly = visits.stream().filter(VisitRow::stoppedEarly).count();
        return new Learnt(cells, all, visits.size(), stoppedEarly);
    }

    /** The kinds of the parts, in no order. */
    static String cell(VisitTerms visit) {
        return visit.parts().stream().map(Part::kind).sorted().collect(Collectors.joining("+"));
    }

    /**
     * The Kaplan-Meier distribution of these times.
     *
     * @param visits not empty
     */
    static EmpiricalMinutes times(Collection<VisitRow> visits) {
        List<VisitRow> sorted = visits.stream()
                // A visit completed at the very minute where another was stopped early comes first (the convention).
                .sorted(Comparator.comparingDouble(VisitRow::minutes).thenComparing(VisitRow::stoppedEarly))
                .toList();
        double atRisk = sorted.stream().mapToDouble(VisitRow::weight).sum();
        double alive = 1;
        double[] times = new double[sorted.size()];
        double[] shares = new double[sorted.size()];
        for (int i = 0; i < times.length; i++) {
            VisitRow row = sorted.get(i);
            times[i] = row.minutes();
            if (i == times.length - 1) {
                shares[i] = alive;
            } else if (!row.stoppedEarly()) {
                shares[i] = alive * row.weight() / atRisk;
                alive -= shares[i];
            }
            atRisk -= row.weight();
        }
        return EmpiricalMinutes.of(times, shares);
    }

    private record Learnt(
            Map<String, MinutesDistribution> cells, MinutesDistribution all, long visits, long stoppedEarly)
            implements FittedModel {

        @Override
        public Prediction predict(VisitTerms visit) {
            return new Plain(cells.getOrDefault(cell(visit), all));
        }
    }

    /** A distribution without reasons. */
    private record Plain(MinutesDistribution completion) implements Prediction {

        @Override
        public MinutesDistribution inRoom() {
            return completion;
        }

        @Override
        public List<Item> why() {
            return List.of();
        }

        @Override
        public List<Question> ask() {
            return List.of();
        }

        @Override
        public double sharedSdLog() {
            return 0;
        }
    }
}
