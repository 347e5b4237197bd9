package org.earslot.duration;

import java.util.List;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.ProbabilityMap;
import org.earslot.minutes.StoppedMinutes;

/** A fitted {@link OncePlusParts}. */
final class OncePlusPartsModel implements FittedModel {

    private final Layout layout;
    private final boolean[] recorded;
    private final ReportTables tables;
    private final Posterior posterior;
    private final ProbabilityMap[] maps;
    private final ComfortStops stops;
    private final double[] personMean;
    private final double[] personPrecision;
    private final PersonMemory memory;
    private final long visits;
    private final long cutShort;
    private final double halfLife;
    private final double dayVariance;

    OncePlusPartsModel(Fit fit, ReportTables tables, ProbabilityMap[] maps, double halfLife) {
        this.halfLife = halfLife;
        layout = fit.layout;
        recorded = fit.design.recorded;
        this.tables = tables;
        posterior = fit.visits.count == 0 ? Posterior.assumed(fit) : Posterior.of(fit);
        this.maps = maps;
        stops = fit.countedStops();
        personMean = fit.personMean.clone();
        personPrecision = fit.personPrecision.clone();
        memory = new PersonMemory(fit.visits);
        dayVariance = DaySpread.variance(fit);
        visits = fit.visits.count;
        long cut = 0;
        for (int row = 0; row < fit.visits.count; row++) {
            cut += fit.visits.ending[row].cutShort() ? 1 : 0;
        }
        cutShort = cut;
    }

    @Override
    public long visits() {
        return visits;
    }

    @Override
    public long cutShort() {
        return cutShort;
    }

    @Override
    public Prediction predict(VisitTerms visit) {
        return new Itemised(visit);
    }

    /** In how many days a past visit's weight halves; infinite where all count alike. */
    double halfLife() {
        return halfLife;
    }

    private Query asked(VisitTerms visit) {
        int who = layout.vocabulary.persons.find(visit.person());
        double mean = 0;
        double variance =
                posterior.personsTold() || visits == 0 ? posterior.sizes().person * posterior.sizes().person : 0;
        if (who != Names.NONE && posterior.personsTold()) {
            mean = personMean[who];
            variance = 1 / personPrecision[who];
        }
        return new QueryEncoder(layout, recorded, tables)
                .of(visit, (part, factor) -> memory.of(who, part, factor), mean, variance);
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
