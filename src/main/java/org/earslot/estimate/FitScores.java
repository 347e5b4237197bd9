package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.earslot.duration.Estimator;
import org.earslot.duration.judge.Baselines;
import org.earslot.duration.judge.LogLinear;
import org.earslot.duration.judge.RollingOrigin;
import org.earslot.duration.judge.RollingOrigin.Contestant;
import org.earslot.duration.judge.RollingOrigin.Result;
import org.earslot.duration.judge.ScoreCard;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import tools.jackson.databind.json.JsonMapper;

/**
 * How good the estimates are: the latest visits, each forecast from earlier days only, beside three simple ways on the
 * same past.
 *
 * @param slotProbability the quantile that slots are made of
 * @param ways the estimator first, then the simple ways; empty where there are too few visits to judge by
 */
public record FitScores(double slotProbability, List<Way> ways) {

    static final String ESTIMATOR = "estimator";

    /** Fewer visits than this judge nothing. */
    private static final int FEWEST = 30;

    /** No more than this many of the latest visits are judged, so that a large log does not hold up a fit. */
    private static final int MOST = 2_000;

    private static final int BLOCKS = 4;
    private static final JsonMapper JSON = JsonMapper.builder().build();

    public FitScores {
        ways = List.copyOf(ways);
    }

    /** One way of forecasting, with its scores overall, by method and ears, and over time. */
    public record Way(String name, Card overall, List<GroupCard> byGroup, List<StretchCard> overTime) {}

    /**
     * @param crps mean distance between forecast and what happened, minutes; smaller is better
     * @param pinball mean cost of the slot quantile, minutes; smaller is better
     * @param coverage probability to the share of visits really done by that quantile
     * @param slotCoverage the same at the slot's own probability
     * @param histogram shares of visits by the tenth of the forecast they fell in
     */
    public record Card(
            int visits,
            int stoppedEarly,
            double crps,
            double pinball,
            Map<Double, Double> coverage,
            double slotCoverage,
            List<Double> histogram) {

        /** The histogram in words: the percent of visits in each tenth. */
        public String tenths() {
            return histogram.stream()
                    .map(share -> Math.round(share * 100) + " %")
                    .collect(Collectors.joining(", "));
        }

        static Card of(ScoreCard card) {
            Map<Double, Double> coverage = new TreeMap<>();
            for (int i = 0; i < ScoreCard.LEVELS.size(); i++) {
                coverage.put(ScoreCard.LEVELS.get(i), rounded(card.coverage().get(i)));
            }
            return new Card(
                    card.visits(),
                    card.stoppedEarly(),
                    rounded(card.crps()),
                    rounded(card.pinball()),
                    coverage,
                    rounded(card.slotCoverage()),
                    card.histogram().stream().map(FitScores::rounded).toList());
        }
    }

    /**
     * Scores within visits alike.
     *
     * @param method code, empty for all
     * @param ears 1 or 2, 0 for both
     */
    public record GroupCard(String method, int ears, Card card) {}

    /** Scores of a stretch of time, in days since 1970-01-01. */
    public record StretchCard(long fromDay, long toDay, Card card) {}

    /** The least slot cost of the simpler ways; empty where there were too few visits. */
    public OptionalDouble bestOfOthers() {
        return ways.stream()
                .filter(way -> !way.name().equals(ESTIMATOR))
                .mapToDouble(way -> way.overall().pinball())
                .min();
    }

    /** The estimator's own scores; empty where there were too few visits. */
    public Optional<Way> estimator() {
        return ways.stream().filter(way -> way.name().equals(ESTIMATOR)).findFirst();
    }

    /** Judges {@code estimator} on these visits. */
    public static FitScores of(List<VisitRow> rows, Estimator estimator, double slotProbability) {
        if (rows.size() < FEWEST) {
            return new FitScores(slotProbability, List.of());
        }
        List<Contestant> contestants = List.of(
                new Contestant(ESTIMATOR, new QuantileApproximation(estimator)),
                new Contestant("fixed_slot", Baselines.fixedSlot()),
                new Contestant("by_method_and_ears", Baselines.quantilesByKind()),
                new Contestant("log_linear", new QuantileApproximation(LogLinear.with(Priors.earCare()))));
        int first = Math.max(rows.size() / 2, rows.size() - MOST);
        RollingOrigin.Plan plan = new RollingOrigin.Plan(first, BLOCKS, slotProbability);
        List<Way> ways = new ArrayList<>();
        RollingOrigin.judge(rows, contestants, plan).forEach(result -> ways.add(way(result)));
        return new FitScores(slotProbability, ways);
    }

    private static Way way(Result result) {
        List<GroupCard> groups = new ArrayList<>();
        result.byGroup()
                .forEach((group, card) -> groups.add(new GroupCard(group.kind(), group.parts(), Card.of(card))));
        List<StretchCard> stretches = result.overTime().stream()
                .map(stretch -> new StretchCard(stretch.fromDay(), stretch.toDay(), Card.of(stretch.card())))
                .toList();
        return new Way(result.name(), Card.of(result.overall()), groups, stretches);
    }

    String text() {
        return JSON.writeValueAsString(this);
    }

    static FitScores read(String text) {
        return JSON.readValue(text, FitScores.class);
    }

    private static double rounded(double value) {
        return Math.round(value * 1e6) / 1e6;
    }
}
