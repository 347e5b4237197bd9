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

    /** Fewer rows than this share of the columns forecast nothing worth learning from. */
    private static final int COLUMNS_A_ROW = 4;

    private static final int SHARE_OF_FIRST_STRETCH = 16;
    private static final int LONGEST_FIRST_STRETCH = 5000;
    private static final int FIRST_PASSES = 8;

    private static final int GROWTH = 2;
    private static final int FAST_GROWTH = 4;
    private static final double LEAST_GROWTH = 1.4;
    private static final int LARGE = 5000;
    private static final int FORECASTS_A_STRETCH = 800;
    private static final int FEW_FORECASTS = 100;

    /** A change is not looked for among the first visits, forecast on next to nothing. */
    private static final int SETTLED = 150;

    /** Nor is a drift with so few visits: forecasts on next to nothing miss as if the level walked. */
    private static final int ENOUGH_TO_WALK = 2 * SETTLED;

    private static final int LEAST_PASSES = 1;
    private static final int MOST_PASSES = 24;
    private static final int PASSED_ROWS = 120_000;

    /** Solving a system of so many columns to the third power costs as much as a row. */
    private static final double ROWS_A_CUBE = 20_000;

    /** The level's path and the fit are found in turns, the fit taking so many steps at most. */
    private static final int ROUNDS = 2;

    private static final int MOST_AGAIN = 6;

    private final Priors priors;
    private final boolean drift;

    private OncePlusParts(Priors priors, boolean drift) {
        this.priors = priors;
        this.drift = drift;
    }

    /** On these priors: {@link Priors#earCare} for a clinic in minutes, {@link Priors#weak} for any table. */
    public static OncePlusParts with(Priors priors) {
        return new OncePlusParts(priors, true);
    }

    /** All of the past counts alike: no drift and no change of practice is looked for. */
    public OncePlusParts withoutDrift() {
        return new OncePlusParts(priors, false);
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
        int[] stretches = stretches(visits.count, fit.layout.width);
        for (int stretch = 0; stretch < stretches.length; stretch++) {
            int upTo = stretches[stretch];
            boolean last = stretch + 1 == stretches.length;
            int passes = passes(upTo, fit.layout.width);
            tally.count(visits, before, upTo, visits.weight);
            tables = tally.tables();
            fit = fit.on(upTo, visits.weight, tables)
                    .run(
                            last ? passes : Math.max(stretch == 0 ? FIRST_PASSES : 0, (passes + 1) / 2),
                            last ? 1e-8 : 2e-3);
            if (!last) {
                foresee(fit, tables, order, upTo, stretches[stretch + 1], foreseen);
            }
            before = upTo;
        }
        return settled(fit, tables, foreseen);
    }

    /**
     * Looks for a change of practice and a slow drift in how the forecasts missed, and fits again where there was one. What
     * the probabilities turned out to be is then learnt as if the forecasts had followed it, since the new fit does.
     */
    private FittedModel settled(Fit fit, ReportTables tables, OutOfSampleForecasts foreseen) {
        PastVisits visits = fit.visits;
        if (!drift) {
            return FitResult.model(fit, tables, foreseen.calibration(fit).maps(), FitResult.Level.STILL);
        }
        WalkingLevel.Seen seen = foreseen.level(visits, -1);
        WalkingLevel.Walk walk = walk(visits, seen);
        Fit again = fit;
        int changed = Drift.change(foreseen.misses(), foreseen.from(SETTLED));
        if (changed >= 0 && visits.day[visits.order[foreseen.place(changed)]] > visits.day[visits.order[0]]) {
            WalkingLevel.Seen jumping = foreseen.level(visits, changed);
            WalkingLevel.Walk beside = walk(visits, jumping);
            if (beside.logLikelihood() > walk.logLikelihood() + Drift.SHARP) {
                long day = visits.day[visits.order[foreseen.place(changed)]];
                again = new Fit(new Design(visits, priors, day), Fit.Criterion.EVIDENCE)
                        .startingFrom(fit)
                        .on(visits.count, visits.weight, tables)
                        .run(passes(visits.count, fit.layout.width), 1e-8);
                seen = jumping;
                walk = beside;
            }
        }
        Calibration calibration = again == fit && walk.daily() == 0
                ? foreseen.calibration(fit)
                : foreseen.calibration(fit, WalkingLevel.filter(seen, walk.daily()));
        FitResult.Level level = FitResult.Level.STILL;
        for (int round = 0; round <= ROUNDS && walk.daily() > 0; round++) {
            LevelPath path = LevelPath.of(again, walk.daily());
            level = path.end(walk);
            if (round < ROUNDS) {
                again = again.following(path.mean())
                        .run(Math.min(MOST_AGAIN, passes(visits.count, fit.layout.width)), 1e-8);
            }
        }
        return FitResult.model(again, tables, calibration.maps(), level);
    }

    private static WalkingLevel.Walk walk(PastVisits visits, WalkingLevel.Seen seen) {
        return visits.count < ENOUGH_TO_WALK ? WalkingLevel.still(seen) : WalkingLevel.walk(seen);
    }

    /**
     * Many over few rows, where they cost little: the sizes of variance settle slowly. A step over a wide table costs more
     * than its rows.
     *
     * @param width columns of the table
     */
    private static int passes(int rows, int width) {
        double cost = Math.max(1, rows + Math.pow(width, 3) / ROWS_A_CUBE);
        return Math.max(LEAST_PASSES, Math.min(MOST_PASSES, (int) (PASSED_ROWS / cost)));
    }

    /**
     * Growing stretches of the past, the last one all of it. They end at places of their own, wherever the table ends, so
     * that more visits leave the forecasts of earlier ones as they are.
     */
    private static int[] stretches(int count, int width) {
        double least = Math.max(FIRST_STRETCH, width / COLUMNS_A_ROW);
        double first = Math.max(least, Math.min(LONGEST_FIRST_STRETCH, count / SHARE_OF_FIRST_STRETCH));
        List<Integer> ends = new ArrayList<>();
        for (int end = FIRST_STRETCH; end <= count / LEAST_GROWTH; end = next(end)) {
            if (end >= first) {
                ends.add(end);
            }
        }
        ends.add(count);
        return ends.stream().mapToInt(Integer::intValue).toArray();
    }

    /** Where the stretch after this one ends at most. */
    private static int next(int end) {
        return end * (end < LARGE ? GROWTH : FAST_GROWTH);
    }

    /** Says the next stretch's minutes beforehand, as the fit then stood, and keeps what came of it. */
    private static void foresee(
            Fit fit, ReportTables tables, PersonsSoFar.Order order, int from, int to, OutOfSampleForecasts foreseen) {
        PastVisits visits = fit.visits;
        Posterior posterior = FitResult.posterior(fit);
        int most = from < LARGE / 2 ? FORECASTS_A_STRETCH : FORECASTS_A_STRETCH / 2;
        int step = Math.max(1, (next(from) - from + most - 1) / most);
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
                    at,
                    from,
                    forecasts[i],
                    Math.exp(visits.log[row]),
                    visits.ending[row].stoppedEarly(),
                    visits.weight[row]);
        }
    }
}
