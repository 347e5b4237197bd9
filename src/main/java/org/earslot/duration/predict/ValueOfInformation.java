package org.earslot.duration.predict;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import org.earslot.duration.Prediction;
import org.earslot.duration.findings.FindingTable;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;

/**
 * What to ask: by how much a report on a finding would narrow the estimate on average. An answer is a report, not the
 * truth, so each possible answer is put in as reported, predicted, and weighed by how often it is given.
 */
public final class ValueOfInformation {

    /** Points of the probability rule behind the spread. */
    private static final int POINTS = 32;

    private ValueOfInformation() {}

    /** One question for each finding that nothing was reported of, the most useful first. */
    public static List<Prediction.Question> questions(
            VisitTerms visit,
            MinutesDistribution now,
            Function<VisitTerms, Prediction> predict,
            Function<String, FindingTable> tables,
            Function<String, List<String>> levels) {
        List<Prediction.Question> questions = new ArrayList<>();
        Reach reach = Reach.of(now);
        double spread = spread(now, reach);
        for (Term term : visit.once()) {
            if (open(term) && !levels.apply(term.factor()).isEmpty()) {
                double saved = spread - expectedSpread(visit, "", term, reach, predict, tables, levels);
                questions.add(new Prediction.Question("", term.factor(), Math.max(0, saved)));
            }
        }
        for (Part part : visit.parts()) {
            for (Term term : part.terms()) {
                if (open(term) && !levels.apply(term.factor()).isEmpty()) {
                    double saved = spread - expectedSpread(visit, part.name(), term, reach, predict, tables, levels);
                    questions.add(new Prediction.Question(part.name(), term.factor(), Math.max(0, saved)));
                }
            }
        }
        questions.sort(Comparator.comparingDouble(Prediction.Question::savesMinutes)
                .reversed()
                .thenComparing(Prediction.Question::part)
                .thenComparing(Prediction.Question::factor));
        return List.copyOf(questions);
    }

    /** The expected CRPS of a forecast that is right: half the mean distance of two draws, in minutes. */
    public static double spread(MinutesDistribution of) {
        return spread(of, Reach.of(of));
    }

    /** E|X - X'| / 2 = integral of F (1 - F) dt, by Simpson's rule on log t within the reach. */
    private static double spread(MinutesDistribution of, Reach reach) {
        double width = (reach.high() - reach.low()) / POINTS;
        double sum = 0;
        for (int point = 0; point <= POINTS; point++) {
            double time = Math.exp(reach.low() + point * width);
            double weight = (point == 0 || point == POINTS ? 1 : point % 2 == 1 ? 4 : 2) * width / 3;
            double done = of.cdf(time);
            sum += done * (1 - done) * weight * time;
        }
        return sum;
    }

    /** The logarithms between which the times lie, now and after any answer. */
    private record Reach(double low, double high) {

        private static final double SELDOM = 1e-4;
        private static final double FURTHER = Math.log(2);

        static Reach of(MinutesDistribution now) {
            double first = Math.max(1e-3, now.quantile(SELDOM));
            double last = Math.max(2 * first, now.quantile(1 - SELDOM));
            return new Reach(Math.log(first) - FURTHER, Math.log(last) + FURTHER);
        }
    }

    private static boolean open(Term term) {
        return term instanceof Term.Finding finding && finding.reported() == null;
    }

    private static double expectedSpread(
            VisitTerms visit,
            String part,
            Term term,
            Reach reach,
            Function<VisitTerms, Prediction> predict,
            Function<String, FindingTable> tables,
            Function<String, List<String>> levels) {
        double[] shares = tables.apply(term.factor()).reportShares();
        List<String> names = levels.apply(term.factor());
        double sum = 0;
        for (int level = 0; level < shares.length; level++) {
            VisitTerms answered = visit.reporting(part, term.factor(), names.get(level));
            sum += shares[level] * spread(predict.apply(answered).completion(), reach);
        }
        return sum;
    }
}
