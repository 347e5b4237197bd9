package org.earslot.duration.judge;

import java.util.ArrayList;
import java.util.List;
import org.earslot.minutes.MinutesDistribution;

/**
 * How a set of forecasts did, with visits stopped early taken as lower bounds.
 *
 * @param visits how many were judged
 * @param stoppedEarly how many of them were stopped early
 * @param crps mean continuous ranked probability score, minutes
 * @param pinball mean quantile score at the slot's probability, minutes
 * @param coverage of the quantiles of {@link #LEVELS}: the share of visits completed within each, from 0 to 1
 * @param slotCoverage the same for the quantile at the slot's probability
 * @param histogram shares of visits whose transform falls in each tenth; all 0.1 if the forecasts are right
 */
public record ScoreCard(
        int visits,
        int stoppedEarly,
        double crps,
        double pinball,
        List<Double> coverage,
        double slotCoverage,
        List<Double> histogram) {

    /** The quantiles whose coverage is shown. */
    public static final List<Double> LEVELS = List.of(0.5, 0.8, 0.9, 0.95);

    private static final int BARS = 10;

    /** Places a stopped-early visit may have ended at, in its mean scores. */
    private static final int ENDS = 16;

    /** Parts a stepped time is spread over. */
    private static final int PARTS = 5;

    private static final double INSIDE = 1e-12;

    public ScoreCard {
        coverage = List.copyOf(coverage);
        histogram = List.copyOf(histogram);
    }

    /**
     * Scores forecasts against what happened.
     *
     * <p>Coverage and histogram are read off the Kaplan-Meier distribution of the transforms (spread over the step for
     * stepped times). A visit stopped early at y counts in CRPS and pinball with the mean score over the transforms beyond F(y) in
     * that distribution, carried back to minutes by its own forecast: never with y itself, which would reward forecasts
     * that are too short.
     *
     * @param visits at least one
     * @param step the step of the recorded times in minutes, finite, at least 0; whole minutes: 1
     * @param slotProbability in the open interval (0, 1)
     * @throws IllegalArgumentException outside of these
     */
    public static ScoreCard of(List<Judged> visits, double step, double slotProbability) {
        Scores.openUnit("slotProbability", slotProbability);
        if (visits.isEmpty()) {
            throw new IllegalArgumentException("0 visits to judge; give at least one");
        }
        PitScale scale = PitScale.of(
                visits.stream().flatMap(visit -> points(visit, step).stream()).toList());
        double crps = 0;
        double pinball = 0;
        for (Judged visit : visits) {
            double slot = visit.forecast().quantile(slotProbability);
            double[] ends = ends(visit, scale);
            for (double end : ends) {
                crps += Scores.crps(visit.forecast(), end) / ends.length;
                pinball += Scores.pinball(slot, slotProbability, end) / ends.length;
            }
        }
        int cut = (int) visits.stream().filter(Judged::stoppedEarly).count();
        return new ScoreCard(
                visits.size(),
                cut,
                crps / visits.size(),
                pinball / visits.size(),
                LEVELS.stream().map(scale::upTo).toList(),
                scale.upTo(slotProbability),
                bars(scale));
    }

    /**
     * The transform of one visit; of a stepped time in equal parts over its step, so that all of a minute does not fall
     * on one side of a quantile that lies within it (their mean is close to the mid-transform).
     */
    private static List<PitScale.Point> points(Judged visit, double step) {
        List<PitScale.Point> points = new ArrayList<>();
        for (int part = 0; part < PARTS; part++) {
            double minutes = visit.minutes() + (visit.stoppedEarly() ? 0 : step * ((part + 0.5) / PARTS - 0.5));
            points.add(new PitScale.Point(Scores.pit(visit.forecast(), minutes, 0), visit.stoppedEarly()));
        }
        return points;
    }

    private static double[] ends(Judged visit, PitScale scale) {
        if (!visit.stoppedEarly()) {
            return new double[] {visit.minutes()};
        }
        MinutesDistribution forecast = visit.forecast();
        double[] ends = scale.beyond(Scores.pit(forecast, visit.minutes(), 0), ENDS);
        for (int i = 0; i < ends.length; i++) {
            double inside = Math.min(1 - INSIDE, Math.max(INSIDE, ends[i]));
            ends[i] = Math.max(visit.minutes(), forecast.quantile(inside));
        }
        return ends;
    }

    private static List<Double> bars(PitScale scale) {
        List<Double> bars = new ArrayList<>();
        double before = 0;
        for (int bar = 1; bar <= BARS; bar++) {
            double upTo = bar == BARS ? 1 : scale.upTo((double) bar / BARS);
            bars.add(upTo - before);
            before = upTo;
        }
        return bars;
    }
}
