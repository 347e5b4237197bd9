package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Where visits ended in the range promised for them, counted in {@value #CLASSES} equal classes of the promised
 * probability, so that months can be added up.
 *
 * @param method its code, empty for all visits
 * @param ears their code, empty for all visits
 * @param ended visits that ran to their end, by class
 * @param cutShort visits stopped for time or safety, of which only is known that they would have lasted longer
 */
public record PromisedPlaces(String method, String ears, List<Integer> ended, List<Integer> cutShort) {

    /** Every promised share that is shown is the upper end of a class. */
    static final int CLASSES = 20;

    /** A time that is just the promised one belongs to the class that ends there, however it was rounded. */
    private static final double ROUNDING = 1e-9;

    /** Counts the visits with a promise, first all together, then by method and ears. */
    public static List<PromisedPlaces> of(List<Promised.Met> visits) {
        Map<String, int[][]> counts = new TreeMap<>();
        for (Promised.Met met : visits) {
            int place = Math.max(0, Math.min(CLASSES - 1, (int) Math.ceil(met.place() * CLASSES - ROUNDING) - 1));
            for (String kind : List.of("", met.kind())) {
                counts.computeIfAbsent(kind, any -> new int[2][CLASSES])[met.cutShort() ? 1 : 0][place]++;
            }
        }
        List<PromisedPlaces> places = new ArrayList<>();
        counts.forEach((kind, count) -> places.add(new PromisedPlaces(
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

    PromisedPlaces plus(PromisedPlaces more) {
        return new PromisedPlaces(method, ears, sum(ended, more.ended), sum(cutShort, more.cutShort));
    }

    private static List<Integer> sum(List<Integer> some, List<Integer> more) {
        List<Integer> sum = new ArrayList<>();
        for (int i = 0; i < some.size(); i++) {
            sum.add(some.get(i) + more.get(i));
        }
        return List.copyOf(sum);
    }

    int visits() {
        return total(ended) + total(cutShort);
    }

    int cut() {
        return total(cutShort);
    }

    private static int total(List<Integer> counts) {
        return counts.stream().mapToInt(Integer::intValue).sum();
    }

    /**
     * The share that was out by the time promised to a share {@code promised}: the life table's estimate, in each class
     * half of those cut short counted as at risk. Without visits cut short the plain share. Null without visits.
     *
     * @param promised the upper end of a class
     */
    Promised.@Nullable Kept kept(double promised) {
        int visits = visits();
        if (visits == 0) {
            return null;
        }
        double beyond = 1;
        int atRisk = visits;
        for (int i = 0; i < (int) Math.round(promised * CLASSES); i++) {
            double exposed = atRisk - cutShort.get(i) / 2.0;
            beyond *= exposed > 0 ? 1 - ended.get(i) / exposed : 1;
            atRisk -= ended.get(i) + cutShort.get(i);
        }
        return Promised.Kept.of(promised, 1 - beyond, visits);
    }

    /** Visits that ran to their end by tenths of the promised range, from the shortest; a tenth each if promises hold. */
    List<Integer> tenths() {
        List<Integer> tenths = new ArrayList<>();
        for (int i = 0; i < CLASSES; i += 2) {
            tenths.add(ended.get(i) + ended.get(i + 1));
        }
        return tenths;
    }
}
