package org.earslot.estimate.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.earslot.estimate.FitScores;
import org.earslot.estimate.FitScores.StretchCard;
import org.earslot.estimate.FitScores.Way;

/** Scores as a page draws them. */
final class ScoreView {

    private static final int LINE = 115;
    private static final int STEP = 48;

    /** Height of a bar whose share is one tenth. */
    private static final int TENTH = 50;

    private static final double TALLEST = 95;

    private ScoreView() {}

    /** A bar of the histogram, in units of its drawing. */
    public record Bar(int x, double y, double height, double share) {}

    /** A stretch of time with the slot cost of each way, in order. */
    public record Stretch(LocalDate from, LocalDate to, int visits, List<Double> slotCosts) {}

    static List<Bar> bars(FitScores scores) {
        List<Bar> bars = new ArrayList<>();
        for (double share :
                scores.estimator().map(way -> way.overall().histogram()).orElse(List.of())) {
            double height = Math.round(Math.min(TALLEST, share * 10 * TENTH) * 10) / 10.0;
            bars.add(new Bar(4 + bars.size() * STEP, LINE - height, height, share));
        }
        return bars;
    }

    static List<Stretch> stretches(FitScores scores) {
        List<Stretch> stretches = new ArrayList<>();
        List<StretchCard> own = scores.estimator().map(Way::overTime).orElse(List.of());
        for (int i = 0; i < own.size(); i++) {
            int at = i;
            stretches.add(new Stretch(
                    LocalDate.ofEpochDay(own.get(i).fromDay()),
                    LocalDate.ofEpochDay(own.get(i).toDay()),
                    own.get(i).card().visits(),
                    scores.ways().stream()
                            .map(way -> way.overTime().get(at).card().pinball())
                            .toList()));
        }
        return stretches;
    }
}
