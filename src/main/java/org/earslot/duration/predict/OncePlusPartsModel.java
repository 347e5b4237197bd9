package org.earslot.duration.predict;

import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.FollowedDrift;
import org.earslot.duration.Prediction;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.ProbabilityMap;
import org.earslot.minutes.StoppedMinutes;

/**
 * A fitted {@link org.earslot.duration.fit.OncePlusParts}: all that a forecast needs, and no visit. Written and read by
 * {@link ModelCodec}.
 *
 * @param recorded by factor: whether it was written down often enough to be used
 * @param maps by class of noise: what its probabilities turn out to be
 * @param dayVariance of what the visits of one group on one day share, on the log scale
 */
public record OncePlusPartsModel(
        Layout layout,
        boolean[] recorded,
        ReportTables tables,
        Posterior posterior,
        ProbabilityMap[] maps,
        ComfortStops stops,
        Persons persons,
        double dayVariance,
        Past past)
        implements FittedModel {

    /** Each person's own log factor, by number, with its precision, and what was found in them. */
    public record Persons(double[] mean, double[] precision, PersonMemory memory) {}

    /**
     * What it was fitted on.
     *
     * @param walk standard deviation on the log scale of what all times alike move in a year; 0 where they do not
     * @param gain of log-likelihood that following it brought
     */
    public record Past(long visits, long stoppedEarly, double walk, double gain) {}

    @Override
    public long visits() {
        return past.visits();
    }

    @Override
    public long stoppedEarly() {
        return past.stoppedEarly();
    }

    @Override
    public FollowedDrift drift() {
        return new FollowedDrift(layout.changeDay, past.walk(), past.gain());
    }

    @Override
    public Prediction predict(VisitTerms visit) {
        return new Itemised(visit);
    }

    private Query asked(VisitTerms visit) {
        Vocabulary names = layout.vocabulary;
        int who = names.persons.find(visit.person());
        double mean = 0;
        double variance =
                posterior.personsTold() || visits() == 0 ? posterior.sizes().person * posterior.sizes().person : 0;
        if (who != Names.NONE && posterior.personsTold()) {
            mean = persons.mean()[who];
            variance = 1 / persons.precision()[who];
        }
        return new QueryEncoder(layout, recorded, tables)
                .of(
                        visit,
                        (part, factor) -> persons.memory().of(who, names.parts.find(part), part.isEmpty(), factor),
                        mean,
                        variance);
    }

    /** The levels of a factor in use, in their order; none of one that is not. */
    private List<String> levels(String name) {
        int factor = layout.vocabulary.factors.find(name);
        return factor == Names.NONE || !recorded[factor]
                ? List.of()
                : layout.vocabulary.levels.get(factor).all();
    }

    private final class Itemised implements Prediction {

        private final VisitTerms visit;
        private final Query query;
        private final MixtureMinutes completion;
        private final double groupDoubt;

        Itemised(VisitTerms visit) {
            this.visit = visit;
            query = asked(visit);
            Forecast forecast = new Forecast(layout, posterior);
            completion = forecast.of(query, 0, maps[Forecast.noiseClass(query)]);
            groupDoubt = forecast.groupDoubt;
        }

        @Override
        public MinutesDistribution completion() {
            return completion;
        }

        @Override
        public MinutesDistribution inRoom() {
            return new StoppedMinutes(completion, stops.hazard(visit));
        }

        @Override
        public List<Item> why() {
            return new WhyThisLong(layout, posterior).items(query, visit.group(), completion.quantile(0.5));
        }

        @Override
        public List<Question> ask() {
            return ValueOfInformation.questions(
                    visit,
                    completion,
                    OncePlusPartsModel.this::predict,
                    factor -> tables.of(layout.vocabulary.factors.find(factor)),
                    OncePlusPartsModel.this::levels);
        }

        @Override
        public double sharedSdLog() {
            return Math.sqrt(groupDoubt + dayVariance);
        }
    }
}
