package org.earslot.estimate.web;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.estimate.BookedEstimate;
import org.earslot.estimate.Estimate;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.page.Messages;

/** An estimate as programs get it. */
record EstimateAnswer(
        String version,
        double meanMinutes,
        double sdMinutes,
        Map<String, Double> quantiles,
        InRoom inRoom,
        int slotMinutes,
        List<Line> why,
        List<Ask> ask,
        int restsOnVisits) {

    /** The lesser of completion and a stop for comfort or safety. */
    record InRoom(double meanMinutes, double sdMinutes, Map<String, Double> quantiles) {}

    /** A line of "why this long"; the lines add up to the median. */
    record Line(String item, double minutes, double low, double high) {}

    /** What to ask, the most useful first. */
    record Ask(String finding, String whoCanAnswer, double savesMinutes) {}

    static EstimateAnswer of(Estimate estimate, Messages messages) {
        return new EstimateAnswer(
                estimate.version(),
                rounded(estimate.completion().mean()),
                rounded(estimate.completion().standardDeviation()),
                quantiles(estimate.completion()),
                new InRoom(
                        rounded(estimate.inRoom().mean()),
                        rounded(estimate.inRoom().standardDeviation()),
                        quantiles(estimate.inRoom())),
                estimate.slotMinutes(),
                estimate.why().stream()
                        .map(line -> new Line(
                                messages.say(line), rounded(line.minutes()), rounded(line.low()), rounded(line.high())))
                        .toList(),
                estimate.ask().stream()
                        .map(question -> new Ask(
                                question.finding(), question.whoCanAnswer().code(), rounded(question.savesMinutes())))
                        .toList(),
                estimate.restsOn().visits());
    }

    private static Map<String, Double> quantiles(MinutesDistribution minutes) {
        Map<String, Double> quantiles = new TreeMap<>();
        for (double probability : BookedEstimate.KEPT) {
            quantiles.put(Double.toString(probability), rounded(minutes.quantile(probability)));
        }
        return quantiles;
    }

    private static double rounded(double value) {
        return Math.round(value * 1e4) / 1e4;
    }
}
