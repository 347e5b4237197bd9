package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.ear.StoppedEarly;

/**
 * What was estimated at booking against what came: by method and ears, how many were out within each estimated quantile.
 *
 * @param lines the first for all visits, then by method and ears
 * @param withoutEstimate visits with known times that carry no estimate, as imported ones
 */
public record EstimatedAndActual(List<Line> lines, int withoutEstimate) {

    /** The shares estimated, as kept with an appointment and shown. */
    static final double[] SHARES = {0.5, 0.8, 0.9, 0.95};

    /**
     * One method and ears; both empty for all visits.
     *
     * @param stoppedEarly visits stopped for time or safety: all that is known is that they would have lasted longer
     * @param pit tenths of the estimated range, from the shortest: how many visits ended in each; a tenth each if the
     *     estimates hold. Visits stopped early are left out
     */
    public record Line(String method, String ears, int visits, int stoppedEarly, List<Kept> kept, List<Integer> pit) {}

    /**
     * How an estimate was kept.
     *
     * @param estimated the share estimated to be out by then
     * @param share the share that was: by Kaplan and Meier, since visits stopped early count as lasting longer
     */
    public record Kept(double estimated, double share, double low, double high) {

        public static Kept of(double estimated, double share, int visits) {
            Share range = new Share((int) Math.round(share * visits), visits);
            return new Kept(estimated, share, range.low(), range.high());
        }
    }

    public static EstimatedAndActual of(List<MeasuredVisit> visits) {
        return of(met(visits, BookedEstimates.of(visits)), without(visits));
    }

    /** Visits with known times that carry no estimate. */
    public static int without(List<MeasuredVisit> visits) {
        return (int) visits.stream()
                .filter(visit -> visit.estimated() == null && visit.inRoom().isPresent())
                .count();
    }

    /** The visits with known times that carry an estimate. */
    public static List<Met> met(List<MeasuredVisit> visits, BookedEstimates estimates) {
        List<Met> met = new ArrayList<>();
        for (MeasuredVisit visit : visits) {
            estimates.place(visit).ifPresent(place -> met.add(Met.of(visit, place)));
        }
        return met;
    }

    /**
     * @param all visits that {@link #met} tells
     * @param without those that {@link #without} counts
     */
    public static EstimatedAndActual of(List<Met> all, int without) {
        Map<String, List<Met>> kinds = new TreeMap<>();
        all.forEach(met ->
                kinds.computeIfAbsent(met.kind(), kind -> new ArrayList<>()).add(met));
        List<Line> lines = new ArrayList<>();
        if (!all.isEmpty()) {
            lines.add(line("", "", all));
        }
        kinds.values()
                .forEach(met -> lines.add(line(met.get(0).method(), met.get(0).ears(), met)));
        return new EstimatedAndActual(lines, without);
    }

    private static Line line(String method, String ears, List<Met> met) {
        List<Met> sorted = met.stream().sorted(Met.BY_PLACE).toList();
        List<Kept> kept = new ArrayList<>();
        for (double estimated : SHARES) {
            kept.add(kept(estimated, sorted));
        }
        Integer[] tenths = new Integer[10];
        Arrays.fill(tenths, 0);
        sorted.stream()
                .filter(one -> !one.stoppedEarly())
                .forEach(one -> tenths[Math.min(9, (int) (one.place() * 10))]++);
        int cut = (int) met.stream().filter(Met::stoppedEarly).count();
        return new Line(method, ears, met.size(), cut, kept, List.of(tenths));
    }

    /** Kaplan and Meier on the scale of the estimate: a visit stopped early at u is known to lie above u and no more. */
    private static Kept kept(double estimated, List<Met> sorted) {
        double beyond = 1;
        int atRisk = sorted.size();
        for (Met one : sorted) {
            if (one.place() > estimated) {
                break;
            }
            if (!one.stoppedEarly()) {
                beyond *= 1 - 1.0 / atRisk;
            }
            atRisk--;
        }
        return Kept.of(estimated, 1 - beyond, sorted.size());
    }

    /** Where a visit's time in room fell in the range estimated for it: the estimated probability of being out by then. */
    public record Met(String method, String ears, double place, boolean stoppedEarly) {

        /** Of two in the same place the one stopped early is known to have lasted longer. */
        private static final Comparator<Met> BY_PLACE =
                Comparator.comparingDouble(Met::place).thenComparing(Met::stoppedEarly);

        public static Met of(MeasuredVisit visit, double place) {
            boolean cut = visit.stoppedEarly() == StoppedEarly.TIME || visit.stoppedEarly() == StoppedEarly.SAFETY;
            return new Met(visit.method().code(), visit.ears().code(), place, cut);
        }

        String kind() {
            return method + ' ' + ears;
        }
    }
}
