package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.FittedModel;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Cholesky;
import org.earslot.duration.predict.OncePlusPartsModel;
import org.earslot.duration.predict.PersonMemory;
import org.earslot.duration.predict.Posterior;
import org.earslot.duration.table.Ending;
import org.earslot.minutes.ProbabilityMap;

/** What a fit has found, put into the form that forecasts are made of. */
final class FitResult {

    private FitResult() {}

    /**
     * Where a walking level stands at the end.
     *
     * @param now what it adds to every location, on the log scale
     * @param variance how sure that is
     * @param yearly standard deviation of a year's move
     * @param gain of log-likelihood that the walk brought
     */
    record Level(double now, double variance, double yearly, double gain) {

        static final Level STILL = new Level(0, 0, 0, 0);
    }

    /**
     * A model of its own, which holds no visit.
     *
     * @param level where it stands now
     */
    static FittedModel model(Fit fit, ReportTables tables, ProbabilityMap[] maps, Level level) {
        PastVisits visits = fit.visits;
        long stoppedEarly = Arrays.stream(visits.ending, 0, visits.count)
                .filter(Ending::stoppedEarly)
                .count();
        return new OncePlusPartsModel(
                fit.layout,
                fit.design.recorded,
                tables,
                visits.count == 0 ? assumed(fit) : raised(posterior(fit), fit, level),
                maps,
                fit.countedStops(),
                new OncePlusPartsModel.Persons(
                        fit.personMean.clone(), fit.personPrecision.clone(), PersonMemory.of(visits)),
                DaySpread.variance(fit),
                new OncePlusPartsModel.Past(visits.count, stoppedEarly, level.yearly(), level.gain()));
    }

    /** A level raises the minutes of every place alike, and is as sure in all of them. */
    private static Posterior raised(Posterior posterior, Fit fit, Level level) {
        int width = fit.layout.width;
        for (int one : fit.layout.base) {
            posterior.beta()[one] += level.now();
            for (int other : fit.layout.base) {
                posterior.covariance()[one * width + other] += level.variance();
            }
        }
        return posterior;
    }

    /** Coefficients with their covariance, of a fit that has made a step. */
    static Posterior posterior(Fit fit) {
        ArrowheadSystem.Solved solved = fit.solved();
        double[] covariance = solved.covariance();
        double[][][] pairs = solved.ofGroups(covariance);
        double[][] cross = new double[fit.groups][];
        double[][] own = new double[fit.groups][];
        double[][] block = new double[fit.groups][];
        for (int g = 0; g < fit.groups; g++) {
            cross[g] = pairs[g][0];
            own[g] = pairs[g][1];
            block[g] = fit.block[g].clone();
        }
        return new Posterior(
                fit.beta.clone(), covariance, block, cross, own, fit.sizes.copy(), fit.persons, Widths.of(fit));
    }

    /** As assumed, before any visit: the inverse of the assumed precision. */
    private static Posterior assumed(Fit fit) {
        int width = fit.layout.width;
        double[] precision = new double[width * width];
        for (int i = 0; i < width; i++) {
            System.arraycopy(fit.design.priorPrecision[i], 0, precision, i * width, width);
        }
        Cholesky.factor(precision, width);
        double[] covariance = Cholesky.inverse(precision, width);
        double[][] none = new double[0][];
        return new Posterior(
                fit.beta.clone(), covariance, none, none, none, fit.sizes.copy(), false, new double[width]);
    }
}
