package org.earslot.duration.fit;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Forecast;
import org.earslot.duration.predict.Posterior;
import org.earslot.duration.predict.Query;
import org.earslot.duration.predict.QueryEncoder;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.ProbabilityMap;

/**
 * The estimator in full: something paid once, plus each part's own time, every effect a multiplier.
 *
 * <pre>
 *   T = exp(u_group + w_person + e) * ( once(visit) + sum over parts of part(kind, terms) )
 * </pre>
 *
 * <p>Any table of once terms, parts, group, person, minutes and endings will do:
 *
 * <pre>{@code
 * List<VisitRow> rows = new ArrayList<>();
 * rows.add(VisitTerms.of(
 *         List.of(Term.level("first", "yes")),
 *         List.of(Part.planned("right", "suction", Term.found("wax", null, "hard")),
 *                 Part.planned("left", "suction", Term.found("wax", "soft", "soft"))),
 *         "P1").took(24, Ending.COMPLETED));
 * FittedModel model = OncePlusParts.with(Priors.weak()).fit(rows);
 * VisitTerms next = VisitTerms.of(List.of(), List.of(Part.planned("right", "suction", Term.unknown("wax"))), "P1");
 * double fourInFive = model.predict(next).completion().quantile(0.8);
 * }</pre>
 *
 * <p>Rows carry the day they belong to where time matters ({@link VisitTerms#day}); give it wherever it is known.
 */
public final class OncePlusParts implements Estimator {

    /** The first stretch has at least so many visits: of a long past this share, but not more than are soon gone over. */
    private static final int FIRST_STRETCH = 40;

    private static final int SHARE_OF_FIRST_STRETCH = 16;
    private static final int LONGEST_FIRST_STRETCH = 5000;
    private static final int FIRST_PASSES = 8;

    private static final double GROWTH = 2;
    private static final double FAST_GROWTH = 4;
    private static final int LARGE = 6000;
    private static final int FORECASTS_A_STRETCH = 800;
    private static final int FEW_FORECASTS = 100;

    /** A change is not looked for among the first visits, forecast on next to nothing. */
    private static final int SETTLED = 150;

    private static final int LEAST_PASSES = 1;
    private static final int MOST_PASSES = 24;
    private static final int PASSED_ROWS = 120_000;

    /** Forecasts that a half-life is judged by, and the visits it is tried on at most. */
    private static final int TRIED = 400;

    private static final int TRIED_ON = 8000;

    private final Priors priors;

    private OncePlusParts(Priors priors) {
        this.priors = priors;
    }

    /** On these priors: {@link Priors#earCare} for a clinic in minutes, {@link Priors#weak} for any table. */
    public static OncePlusParts with(Priors priors) {
        return new OncePlusParts(priors);
    }

    @Override
    public FittedModel fit(Iterable<VisitRow> rows) {
        PastVisits visits = PastVisits.of(rows, Vocabulary.of(priors));
        Fit fit = new Fit(new Design(visits, priors), Fit.Criterion.EVIDENCE);
        ReportTables.Tally tally = new ReportTables.Tally(visits.vocabulary, priors);
        ReportTables tables = tally.tables();
        PersonsSoFar.Order order = PersonsSoFar.Order.of(visits);
        OutOfSampleForecasts foreseen = new OutOfSampleForecasts(visits.count);
        int before = 0;
        int[] stretches = stretches(visits.count);
        for (int stretch = 0; stretch < stretches.length; stretch++) {
            int upTo = stretches[stretch];
            boolean last = stretch + 1 == stretches.length;
            tally.count(visits, before, upTo, visits.weight);
            tables = tally.tables();
            fit = fit.on(upTo, visits.weight, tables)
                    .run(
                            last ? passes(upTo) : Math.max(stretch == 0 ? FIRST_PASSES : 0, (passes(upTo) + 1) / 2),
                            last ? 1e-8 : 2e-3);
            if (!last) {
                foresee(
                        fit,
                        tables,
                        order,
                        upTo,
                        stretches[stretch + 1],
                        visits.count > LARGE ? FORECASTS_A_STRETCH / 2 : FORECASTS_A_STRETCH,
                        foreseen);
            }
            before = upTo;
        }
        return settled(fit, tables, foreseen);
    }

    /** Looks for a change of practice in how the forecasts missed, and fits again where there was one. */
    private FittedModel settled(Fit fit, ReportTables tables, OutOfSampleForecasts foreseen) {
        PastVisits visits = fit.visits;
        int settledFrom = foreseen.from(Math.max(SETTLED, visits.count / 8));
        int changed = Drift.change(foreseen.misses(), settledFrom);
        if (changed >= 0) {
            long day = visits.day[visits.order[foreseen.place(changed)]];
            if (day > visits.day[visits.order[0]]) {
                Fit again = new Fit(new Design(visits, priors, day), Fit.Criterion.EVIDENCE)
                        .startingFrom(fit)
                        .on(visits.count, visits.weight, tables)
                        .run(passes(visits.count), 1e-8);
                // Forecasts made across the change say nothing on how good the new fit is.
                return FitResult.model(
                        again, tables, foreseen.calibration(fit, changed).maps(), Drift.NONE);
            }
        }
        if (Drift.wanders(foreseen.misses(), settledFrom)) {
            double halfLife = halfLife(fit);
            if (halfLife != Drift.NONE) {
                double[] weights = Drift.weights(visits, halfLife);
                ReportTables faded = counted(visits, visits.count, weights);
                Fit again = fit.on(visits.count, weights, faded).run(passes(visits.count), 1e-8);
                return FitResult.model(
                        again,
                        faded,
                        foreseen.calibration(fit, foreseen.count()).maps(),
                        halfLife);
            }
        }
        return FitResult.model(
                fit, tables, foreseen.calibration(fit, foreseen.count()).maps(), Drift.NONE);
    }

    /** The half-life whose forecasts of the last visits score best; none where none does better. */
    private double halfLife(Fit fit) {
        PastVisits visits = fit.visits;
        int from = Math.max(visits.count * 2 / 3, visits.count - TRIED_ON / 4);
        double best = Double.NEGATIVE_INFINITY;
        double chosen = Drift.NONE;
        for (int candidate = -1; candidate < Drift.HALF_LIVES.length; candidate++) {
            double halfLife = candidate < 0 ? Drift.NONE : Drift.HALF_LIVES[candidate];
            double[] weights = Drift.weights(visits, halfLife);
            ReportTables tables = counted(visits, from, weights);
            Fit trial = new Fit(fit.design, Fit.Criterion.EVIDENCE)
                    .startingFrom(fit)
                    .on(from, weights, tables)
                    .run(Math.min(8, passes(visits.count)), 1e-3);
            OutOfSampleForecasts foreseen = new OutOfSampleForecasts(TRIED);
            foresee(trial, tables, PersonsSoFar.Order.of(visits), from, visits.count, TRIED, foreseen);
            double score = foreseen.score();
            // A half-life has to earn its keep: it throws past visits away.
            if (score > best + (candidate == 0 ? 0.003 : 0)) {
                best = score;
                chosen = halfLife;
            }
        }
        return chosen;
    }

    /** The tables of the first {@code upTo} visits in time. */
    private ReportTables counted(PastVisits visits, int upTo, double[] weights) {
        ReportTables.Tally tally = new ReportTables.Tally(visits.vocabulary, priors);
        tally.count(visits, 0, upTo, weights);
        return tally.tables();
    }

    /** Many over few rows, where they cost little: the sizes of variance settle slowly. */
    private static int passes(int rows) {
        return Math.max(LEAST_PASSES, Math.min(MOST_PASSES, PASSED_ROWS / Math.max(1, rows)));
    }

    /** Growing stretches of the past, the last one all of it. */
    private static int[] stretches(int count) {
        double first = Math.max(FIRST_STRETCH, Math.min(LONGEST_FIRST_STRETCH, count / SHARE_OF_FIRST_STRETCH));
        List<Integer> ends = new ArrayList<>();
        double end = count;
        ends.add(count);
        while (true) {
            end /= end > LARGE ? FAST_GROWTH : GROWTH;
            if (end < first) {
                break;
            }
            ends.add(0, (int) end);
        }
        return ends.stream().mapToInt(Integer::intValue).toArray();
    }

    /** Says the next stretch's minutes beforehand, as the fit then stood, and keeps what came of it. */
    private static void foresee(
            Fit fit,
            ReportTables tables,
            PersonsSoFar.Order order,
            int from,
            int to,
            int most,
            OutOfSampleForecasts foreseen) {
        PastVisits visits = fit.visits;
        Posterior posterior = FitResult.posterior(fit);
        int step = Math.max(1, (to - from + most - 1) / most);
        int count = (to - from + step - 1) / step;
        MixtureMinutes[] forecasts = new MixtureMinutes[count];
        // Two halves, each with its own room to work in; what they say is kept in order.
        IntStream.range(0, count < FEW_FORECASTS ? 1 : 2).parallel().forEach(half -> {
            QueryEncoder questions = new QueryEncoder(fit.layout, fit.design.recorded, tables);
            Forecast forecast = new Forecast(fit.layout, posterior);
            PersonsSoFar persons = new PersonsSoFar(fit, order, from);
            for (int i = half; i < count; i += count < FEW_FORECASTS ? 1 : 2) {
                int at = from + i * step;
                double[] own = persons.before(at);
                Query asked = questions.of(visits, visits.order[at], own[0], own[1]);
                forecasts[i] = forecast.of(asked, 0, ProbabilityMap.IDENTITY);
            }
        });
        for (int i = 0; i < count; i++) {
            int at = from + i * step;
            int row = visits.order[at];
            foreseen.add(
                    at, forecasts[i], Math.exp(visits.log[row]), visits.ending[row].stoppedEarly(), visits.weight[row]);
        }
    }
}
