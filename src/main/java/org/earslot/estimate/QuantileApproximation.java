package org.earslot.estimate;

import java.util.List;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.EmpiricalMinutes;
import org.earslot.minutes.MinutesDistribution;

/**
 * An estimator whose forecasts are handed over as {@value #PARTS} equally likely minutes, for judging: scores then have a
 * closed form, where a mixture of many log-normal times needs an integral for each score. A score moves by less than 0.2 %
 * (a test holds it).
 *
 * @param whole the estimator itself
 */
record QuantileApproximation(Estimator whole) implements Estimator {

    /** Equally likely minutes a forecast is thinned to. */
    static final int PARTS = 400;

    /** Steps in log time between the outermost quantiles, straight in between. */
    private static final int STEPS = 160;

    private static final double OUTERMOST = 5e-4;

    @Override
    public FittedModel fit(Iterable<org.earslot.duration.table.VisitRow> rows) {
        return new Model(whole.fit(rows));
    }

    /** The forecast as equally likely minutes. */
    static EmpiricalMinutes thinned(MinutesDistribution minutes) {
        if (minutes instanceof EmpiricalMinutes already) {
            return already;
        }
        double low = Math.log(Math.max(1e-3, minutes.quantile(OUTERMOST)));
        double high = Math.log(Math.max(2e-3, minutes.quantile(1 - OUTERMOST)));
        double width = (high - low) / STEPS;
        double[] upTo = new double[STEPS + 1];
        for (int step = 0; step <= STEPS; step++) {
            upTo[step] = minutes.cdf(Math.exp(low + step * width));
        }
        double[] times = new double[PARTS];
        int step = 0;
        for (int part = 0; part < PARTS; part++) {
            double probability = (part + 0.5) / PARTS;
            while (step < STEPS - 1 && upTo[step + 1] < probability) {
                step++;
            }
            double rise = upTo[step + 1] - upTo[step];
            double share = rise > 0 ? Math.min(1, Math.max(0, (probability - upTo[step]) / rise)) : 0;
            times[part] = Math.exp(low + (step + share) * width);
        }
        return EmpiricalMinutes.of(times);
    }

    private record Model(FittedModel whole) implements FittedModel {

        @Override
        public Prediction predict(VisitTerms visit) {
            return new Forecast(thinned(whole.predict(visit).completion()));
        }

        @Override
        public long visits() {
            return whole.visits();
        }

        @Override
        public long stoppedEarly() {
            return whole.stoppedEarly();
        }
    }

    /** Minutes alone: judging asks for no reasons. */
    private record Forecast(MinutesDistribution completion) implements Prediction {

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
