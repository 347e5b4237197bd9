package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * Where the visits of one method and ears ended in the ranges promised for them, each by itself and in few characters.
 *
 * @param ended those that ran to their end
 * @param cutShort those stopped for time or safety
 */
public record MetPlaces(String method, String ears, List<Double> ended, List<Double> cutShort) {

    public static List<MetPlaces> of(Collection<Promised.Met> met) {
        Map<String, MetPlaces> kinds = new TreeMap<>();
        for (Promised.Met one : met) {
            MetPlaces kind = kinds.computeIfAbsent(
                    one.kind(), name -> new MetPlaces(one.method(), one.ears(), new ArrayList<>(), new ArrayList<>()));
            (one.cutShort() ? kind.cutShort : kind.ended).add(one.place());
        }
        return List.copyOf(kinds.values());
    }

    public Stream<Promised.Met> met() {
        return Stream.concat(
                ended.stream().map(place -> new Promised.Met(method, ears, place, false)),
                cutShort.stream().map(place -> new Promised.Met(method, ears, place, true)));
    }
}
