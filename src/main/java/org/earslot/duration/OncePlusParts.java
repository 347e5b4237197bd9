package org.earslot.duration;

import java.util.ArrayList;
import java.util.List;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.Normal;
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

    private static final int FIRST_STRETCH = 40;
    private static final double GROWTH = 1.5;
    private static final double FAST_GROWTH = 4;
    private static final int LARGE = 6000;
    private static final int FORECASTS_A_STRETCH = 800;

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
        Layout layout = new Layout(visits, priors);
        Design design = new Design(visits, layout);
        Fit fit = new Fit(visits, layout, design, Fit.Criterion.EVIDENCE);
        ReportTables tables = new ReportTables(layout.vocabulary, priors);
        double[] weights = visits.weight;
        Calibration calibration = new Calibration(fit.sizes.noise.length);
        int before = 0;
        int[] stretches = stretches(visits.count);
        for (int stretch = 0; stretch < stretches.length; stretch++) {
            int upTo = stretches[stretch];
            tables.count(visits, before, upTo, weights);
            fit.stretch(upTo, weights, tables);
            fit.run(passes(upTo), 1e-4);
            if (stretch + 1 < stretches.length) {
                foresee(fit, tables, upTo, stretches[stretch + 1], calibration);
            }
            before = upTo;
        }
        if (visits.count < LARGE) {
            fit.run(60, 1e-9);
        }
        return new OncePlusPartsModel(fit, tables, calibration.maps());
    }

    private static int passes(int rows) {
        return rows > 50_000 ? 3 : rows > LARGE ? 4 : rows > 1000 ? 8 : 12;
    }

    /** Growing stretches of the past, the last one all of it. */
    private static int[] stretches(int count) {
        List<Integer> ends = new ArrayList<>();
        double end = count;
        ends.add(count);
        while (true) {
            end /= end > LARGE ? FAST_GROWTH : GROWTH;
            if (end < FIRST_STRETCH) {
                break;
            }
            ends.add(0, (int) end);
        }
        return ends.stream().mapToInt(Integer::intValue).toArray();
    }

    /** Says the next stretch's minutes beforehand, as the fit then stood, and keeps what came of it. */
    private static void foresee(Fit fit, ReportTables tables, int from, int to, Calibration calibration) {
        PastVisits visits = fit.visits;
        Posterior posterior = Posterior.of(fit);
        Questions questions = new Questions(fit.layout, fit.design.recorded, tables);
        Forecast forecast = new Forecast(fit.layout, posterior);
        Pass scratch = new Pass(fit);
        int step = Math.max(1, (to - from) / FORECASTS_A_STRETCH);
        PersonsSoFar persons = new PersonsSoFar(fit, scratch, from);
        for (int i = from; i < to; i += step) {
            int row = visits.order[i];
            double[] own = persons.before(i);
            Asked asked = questions.of(visits, row, own[0], own[1]);
            MixtureMinutes time = forecast.of(asked, 0, ProbabilityMap.IDENTITY);
            double probability = time.cdf(Math.exp(visits.log[row]));
            calibration.add(
                    probability,
                    visits.ending[row].cutShort(),
                    fit.classOf[row],
                    visits.weight[row] * Math.min(step, 4));
        }
    }

    static double score(double probability) {
        return Normal.quantile(Math.max(1e-6, Math.min(1 - 1e-6, probability)));
    }
}
