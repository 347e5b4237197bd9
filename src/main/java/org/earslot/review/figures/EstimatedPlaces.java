package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Where visits ended in the range estimated for them, counted in {@value #CLASSES} equal classes of the estimated
 * probability, so that months can be added up.
 *
 * @param method its code, empty for all visits
 * @param ears their code, empty for all visits
 * @param ended visits that ran to their end, by class
 * @param stoppedEarly visits stopped for time or safety, of which only is known that they would have lasted longer
 */
public record EstimatedPlaces(String method, String ears, List<Integer> ended, List<Integer> stoppedEarly) {

    /** Every estimated share that is shown is the upper end of a class. */
    static final int CLASSES = 20;

    /** A time that is just the estimated one belongs to the class that ends there, however it was rounded. */
    private static final double ROUNDING = 1e-9;

    /** Counts the visits with an estimate, first all together, then by method and ears. */
    public static List<EstimatedPlaces> of(List<EstimatedAndActual.Met> visits) {
        Map<String, int[][]> counts = new TreeMap<>();
        for (EstimatedAndActual.Met met : visits) {
            int place = Math.max(0, Math.min(CLASSES - 1, (int) Math.ceil(met.place() * CLASSES - ROUNDING) - 1));
            for (String kind : List.of("", met.kind())) {
                counts.computeIfAbsent(kind, any -> new int[2][CLASSES])[met.stoppedEarly() ? 1 : 0][place]++;
            }
        }
        List<EstimatedPlaces> places = new ArrayList<>();
        counts.forEach((kind, count) -> places.add(new EstimatedPlaces(
                kind.isEmpty() ? "" : kind.substring(0, kind.indexOf(' ')),
                kind.substring(kind.indexOf(' ') + 1),
                boxed(count[0]),
                boxed(count[1]))));
        return places;
    }

    private static List<Integer> boxed(int[] counts) {
        List<Integer> boxed = new ArrayList<>();
        for (int count : counts) {
            boxed.add(count);
        }
        return List.copyOf(boxed);
    }

    EstimatedPlaces plus(EstimatedPlaces more) {
        return new EstimatedPlaces(method, ears, sum(ended, more.ended), sum(stoppedEarly, more.stoppedEarly));
    }

    private static List<Integer> sum(List<Integer> some, List<Integer> more) {
        List<Integer> sum = new ArrayList<>();
        for (int i = 0; i < some.size(); i++) {
            sum.add(some.get(i) + more.get(i));
        }
        return List.copyOf(sum);
    }

    int visits() {
        return total(ended) + total(stoppedEarly);
    }

    int cut() {
        return total(stoppedEarly);
    }

    private static int total(List<Integer> counts) {
        return counts.stream().mapToInt(Integer::intValue).sum();
    }

    /**
     * The share that was out by the time estimated to a share {@code estimated}: the life table's estimate, in each class
     * half of those stopped early counted as at risk. Without visits stopped early the plain share. Null without visits.
     *
     * @param estimated the upper end of a class
     */
    EstimatedAndActual.@Nullable Kept kept(double estimated) {
        int visits = visits();
        if (visits == 0) {
            return null;
        }
        double beyond = 1;
        int atRisk = visits;
        for (int i = 0; i < (int) Math.round(estimated * CLASSES); i++) {
            double exposed = atRisk - stoppedEarly.get(i) / 2.0;
            beyond *= exposed > 0 ? 1 - ended.get(i) / exposed : 1;
            atRisk -= ended.get(i) + stoppedEarly.get(i);
        }
        return EstimatedAndActual.Kept.of(estimated, 1 - beyond, visits);
    }

    /** Visits that ran to their end by tenths of the estimated range, from the shortest; a tenth each if estimates hold. */
    List<Integer> tenths() {
        List<Integer> tenths = new ArrayList<>();
        for (int i = 0; i < CLASSES; i += 2) {
            tenths.add(ended.get(i) + ended.get(i + 1));
        }
        return tenths;
    }
}
