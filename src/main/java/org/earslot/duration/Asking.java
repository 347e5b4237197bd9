package org.earslot.duration;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import org.earslot.minutes.MinutesDistribution;

/**
 * What to ask: by how much a report on a finding would narrow the estimate on average. An answer is a report, not the
 * truth, so each possible answer is put in as reported, predicted, and weighed by how often it is given.
 */
final class Asking {

    /** Points of the probability rule behind the spread. */
    private static final int POINTS = 64;

    private Asking() {}

    /** One question for each finding that nothing was reported of, the most useful first. */
    static List<Prediction.Question> questions(
            VisitTerms visit,
            MinutesDistribution now,
            Function<VisitTerms, Prediction> predict,
            Function<String, FindingTable> tables,
            Function<String, List<String>> levels) {
        List<Prediction.Question> questions = new ArrayList<>();
        double spread = spread(now);
        for (Term term : visit.once()) {
            if (open(term) && !levels.apply(term.factor()).isEmpty()) {
                double saved = spread - expectedSpread(visit, "", term, predict, tables, levels);
                questions.add(new Prediction.Question("", term.factor(), Math.max(0, saved)));
            }
        }
        for (Part part : visit.parts()) {
            for (Term term : part.terms()) {
                if (open(term) && !levels.apply(term.factor()).isEmpty()) {
                    double saved = spread - expectedSpread(visit, part.name(), term, predict, tables, levels);
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
    static double spread(MinutesDistribution of) {
        // E|X - X'| / 2 = integral of quantile(p) (2p - 1) dp, by the midpoint rule.
        double sum = 0;
        for (int point = 0; point < POINTS; point++) {
            double p = (point + 0.5) / POINTS;
            sum += of.quantile(p) * (2 * p - 1);
        }
        return sum / POINTS;
    }

    private static boolean open(Term term) {
        return term instanceof Term.Finding finding && finding.reported() == null;
    }

    private static double expectedSpread(
            VisitTerms visit,
            String part,
            Term term,
            Function<VisitTerms, Prediction> predict,
            Function<String, FindingTable> tables,
            Function<String, List<String>> levels) {
        double[] shares = tables.apply(term.factor()).reportShares();
        List<String> names = levels.apply(term.factor());
        double sum = 0;
        for (int level = 0; level < shares.length; level++) {
            VisitTerms answered = visit.reporting(part, term.factor(), names.get(level));
            sum += shares[level] * spread(predict.apply(answered).completion());
        }
        return sum;
    }
}
