package org.earslot.duration;

import java.util.List;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;

/**
 * An estimator put into clinics whose minutes are all {@code times} as long, its forecasts brought back to the given
 * minutes: scores above the floor are those of the clinic at the other pace.
 */
record AtAnotherPace(Estimator estimator, double times) implements Estimator {

    @Override
    public FittedModel fit(Iterable<VisitRow> rows) {
        FittedModel model = estimator.fit(() -> {
            var each = rows.iterator();
            return new java.util.Iterator<>() {
                @Override
                public boolean hasNext() {
                    return each.hasNext();
                }

                @Override
                public VisitRow next() {
                    VisitRow row = each.next();
                    return new VisitRow(row.terms(), row.minutes() * times, row.ending(), row.weight());
                }
            };
        });
        return new Slowed(model, times);
    }

    private record Slowed(FittedModel model, double times) implements FittedModel {

        @Override
        public Prediction predict(VisitTerms visit) {
            return new Back(model.predict(visit), times);
        }

        @Override
        public long visits() {
            return model.visits();
        }

        @Override
        public long stoppedEarly() {
            return model.stoppedEarly();
        }
    }

    private record Back(Prediction prediction, double times) implements Prediction {

        @Override
        public MinutesDistribution completion() {
            return new Divided(prediction.completion(), times);
        }

        @Override
        public MinutesDistribution inRoom() {
            return new Divided(prediction.inRoom(), times);
        }

        @Override
        public List<Item> why() {
            return prediction.why();
        }

        @Override
        public List<Question> ask() {
            return prediction.ask();
        }

        @Override
        public double sharedSdLog() {
            return prediction.sharedSdLog();
        }
    }

    private record Divided(MinutesDistribution minutes, double by) implements MinutesDistribution {

        @Override
        public double mean() {
            return minutes.mean() / by;
        }

        @Override
        public double standardDeviation() {
            return minutes.standardDeviation() / by;
        }

        @Override
        public double cdf(double at) {
            return minutes.cdf(at * by);
        }

        @Override
        public double quantile(double probability) {
            return minutes.quantile(probability) / by;
        }
    }
}
