package org.earslot.duration.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.ComfortStops;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.Vocabulary;
import org.earslot.minutes.ProbabilityMap;

/**
 * What if stops for comfort or safety fall on the visits that are harder than they look? The fit takes a stop as saying
 * nothing on how long the work would have gone on but "longer". Here the hazard of a stop is h exp(gamma z - gamma^2 / 2)
 * a minute, z being the visit's unseen difficulty: by how many standard deviations of its noise the logarithm of its time
 * lies above what was to be expected. At gamma 0 it is the usual fit; the greater gamma, the longer the visits that were
 * stopped would have been. Data cannot tell gamma: it is tried at several values, to see how far anything would move.
 *
 * <p>Fits alike but for gamma, to be set beside each other: neither calibration nor drift, so none of them is the
 * estimator in force. The factor exp(-gamma^2 / 2) keeps the mean hazard what it is.
 */
public final class InformativeStops {

    private static final int PASSES = 60;
    private static final double ENOUGH = 1e-7;

    private InformativeStops() {}

    /**
     * The same rows fitted at each gamma.
     *
     * @param gammas each finite, at least 0
     * @return in the order of {@code gammas}
     */
    public static List<FittedModel> fits(List<VisitRow> rows, Priors priors, List<Double> gammas) {
        for (double gamma : gammas) {
            if (!(gamma >= 0 && gamma < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException("gamma is " + gamma + "; give a finite number from 0");
            }
        }
        PastVisits visits = PastVisits.of(rows, Vocabulary.of(priors));
        Design design = new Design(visits, priors);
        ReportTables.Tally tally = new ReportTables.Tally(visits.vocabulary, priors);
        tally.count(visits, 0, visits.count, visits.weight);
        ReportTables tables = tally.tables();
        List<FittedModel> models = new ArrayList<>();
        Fit before = null;
        for (double gamma : gammas) {
            Fit fit = new Fit(design, Fit.Criterion.EVIDENCE);
            Fit.Informative stopping = new Fit.Informative(gamma, stops(rows, priors, Math.exp(gamma * gamma / 2)));
            fit = (before == null ? fit : fit.startingFrom(before))
                    .with(stopping)
                    .on(visits.count, visits.weight, tables)
                    .run(PASSES, ENOUGH);
            ProbabilityMap[] maps = new ProbabilityMap[fit.sizes.noise.length];
            Arrays.fill(maps, ProbabilityMap.IDENTITY);
            models.add(FitResult.model(fit, tables, maps, FitResult.Level.STILL));
            before = fit;
        }
        return models;
    }

    /** Stops counted as always, their minutes {@code stretched}. */
    private static ComfortStops stops(List<VisitRow> rows, Priors priors, double stretched) {
        ComfortStops stops = new ComfortStops(priors);
        rows.forEach(row -> stops.count(row, stretched));
        return stops;
    }
}
