package org.earslot.duration;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.InventedVisit;
import org.earslot.invented.Trial;
import org.earslot.invented.TrueTimes;
import org.earslot.minutes.MinutesDistribution;

/**
 * Expected scores of one estimator on trials with known truth, exact given the truth: no visit's own time is drawn.
 *
 * <p>Coverage of a quantile is the true probability of being done within it; what is above the floor is the expected
 * quantile score less that of the true quantile, summed over visits, as a share of the latter. There are two floors: of a
 * forecaster who also knows the patient's earlier visits, the hardest there is, and of one who knows the referral alone.
 */
final class TrialScore {

    /** The quantiles looked at. */
    static final double[] LEVELS = {0.5, 0.8, 0.9, 0.95};

    private static final int SLOT = 1;

    /** Sums over the visits of one group. */
    static final class Sums {
        int visits;
        final double[] floor = new double[LEVELS.length];
        final double[] referral = new double[LEVELS.length];
        final double[] above = new double[LEVELS.length];
        final double[] coverage = new double[LEVELS.length];
        /** Log of the forecast's quantile over the true one. */
        final double[] ratio = new double[LEVELS.length];

        void add(TrueTimes truth, TrueTimes byReferral, MinutesDistribution forecast) {
            visits++;
            for (int i = 0; i < LEVELS.length; i++) {
                double right = truth.whole().quantile(LEVELS[i]);
                double said = forecast.quantile(LEVELS[i]);
                double least = truth.floor(LEVELS[i]);
                floor[i] += least;
                referral[i] += truth.pinball(byReferral.whole().quantile(LEVELS[i]), LEVELS[i]);
                above[i] += truth.pinball(said, LEVELS[i]) - least;
                coverage[i] += truth.whole().cdf(said);
                ratio[i] += Math.log(said / right);
            }
        }

        double above(int level) {
            return above[level] / floor[level];
        }

        /** Above who knows the clinic's truth and what the referral says, but not the patient's earlier visits. */
        double aboveReferral(int level) {
            return (floor[level] + above[level]) / referral[level] - 1;
        }

        double coverage(int level) {
            return coverage[level] / visits;
        }

        double ratio(int level) {
            return ratio[level] / visits;
        }
    }

    private final Map<String, Sums> groups = new TreeMap<>();

    /** Fits on the trial's log, then forecasts what follows; returns the score above the floor at the slot quantile. */
    double add(Trial trial, Estimator estimator) {
        FittedModel model = estimator.fit(trial.rows());
        Sums own = new Sums();
        List<VisitTerms> asked = trial.asked();
        List<Boolean> known = trial.known();
        for (int i = 0; i < asked.size(); i++) {
            TrueTimes truth = trial.truths().get(i);
            TrueTimes byReferral = trial.byReferral().get(i);
            MinutesDistribution forecast = model.predict(asked.get(i)).completion();
            InventedVisit.Told told = trial.next().get(i).told();
            own.add(truth, byReferral, forecast);
            group("all").add(truth, byReferral, forecast);
            group("method " + told.method().code()).add(truth, byReferral, forecast);
            group("ears " + told.ears().each().size()).add(truth, byReferral, forecast);
            group("method and ears " + told.method().code() + " "
                            + told.ears().each().size())
                    .add(truth, byReferral, forecast);
            group("patient " + (known.get(i) ? "known" : "new")).add(truth, byReferral, forecast);
            long reports = told.reported().values().stream()
                    .filter(findings -> findings.wax() != null)
                    .count();
            group("wax reported " + (reports == 0 ? "no" : "yes")).add(truth, byReferral, forecast);
            group("first visit " + (told.firstVisit() ? "yes" : "no")).add(truth, byReferral, forecast);
            group("softener " + (told.softenerDays() == 0 ? "no" : "yes")).add(truth, byReferral, forecast);
        }
        return own.above(SLOT);
    }

    /** Sums by group, "all" among them. */
    Map<String, Sums> groups() {
        return groups;
    }

    Sums group(String name) {
        return groups.computeIfAbsent(name, none -> new Sums());
    }
}
