package org.earslot.duration;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.judge.LogLinear;
import org.earslot.duration.judge.Scores;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.ProcedureTables;

/**
 * Prints, for tables of procedure times that are not about ears, quantile score and coverage at 0.8 beside plain quantile
 * regression, refitted every 100 cases on all earlier ones, every 25 in the 500 cases after a sharp change; and the coverage there.
 *
 * <p>Run: {@code mvn -Pbench test-compile exec:java -Dexec.classpathScope=test
 * -Dexec.mainClass=org.earslot.duration.ProcedureBenchmark}; arguments: tables of each kind, first seed.
 */
public final class ProcedureBenchmark {

    private static final double SLOT = 0.8;
    private static final int BLOCK = 100;
    private static final int SHORT_BLOCK = 25;
    private static final int FIRST = 1500;
    private static final int CHANGE = 2000;
    private static final int AFTER = 500;
    private static final int CASES = 3000;

    private ProcedureBenchmark() {}

    /** Sums over the cases judged of one table. */
    record Outcome(double pinball, double coverage, double coverageAfter) {}

    public static void main(String[] arguments) {
        int tables = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 4;
        long first = arguments.length > 1 ? Long.parseLong(arguments[1]) : 1;
        System.out.printf("%-26s %-22s %10s %10s %12s%n", "table", "method", "pinball", "coverage", "after change");
        for (long seed = first; seed < first + tables; seed++) {
            print("shared set-up " + seed, ProcedureTables.sharedSetUp(seed, CASES));
            print("slow drift " + seed, ProcedureTables.slowDrift(seed, CASES, 0.3));
            print("slight drift " + seed, ProcedureTables.slowDrift(seed, CASES, 0.1));
            print("change of practice " + seed, ProcedureTables.changeOfPractice(seed, CASES, CHANGE));
        }
    }

    private static void print(String table, List<VisitRow> rows) {
        contestants().forEach((name, learn) -> {
            Outcome outcome = judge(rows, learn);
            System.out.printf(
                    Locale.ROOT,
                    "%-26s %-22s %10.4f %9.1f%% %11.1f%%%n",
                    table,
                    name,
                    outcome.pinball(),
                    100 * outcome.coverage(),
                    100 * outcome.coverageAfter());
        });
    }

    private static Map<String, Function<List<VisitRow>, ToDoubleFunction<VisitTerms>>> contestants() {
        Map<String, Function<List<VisitRow>, ToDoubleFunction<VisitTerms>>> contestants = new LinkedHashMap<>();
        contestants.put("quantile regression", rows -> QuantileRegression.learn(rows, SLOT));
        contestants.put("once plus parts", slots(OncePlusParts.with(Priors.weak())));
        contestants.put("log-linear", slots(LogLinear.with(Priors.weak())));
        contestants.put("log-linear, ordinary", slots(LogLinear.flat()));
        return contestants;
    }

    static Function<List<VisitRow>, ToDoubleFunction<VisitTerms>> slots(Estimator estimator) {
        return rows -> {
            FittedModel model = estimator.fit(rows);
            return visit -> model.predict(visit).completion().quantile(SLOT);
        };
    }

    static Outcome judge(List<VisitRow> rows, Function<List<VisitRow>, ToDoubleFunction<VisitTerms>> learn) {
        double pinball = 0;
        List<Boolean> within = new ArrayList<>();
        int block;
        for (int from = FIRST; from < rows.size(); from += block) {
            block = from >= CHANGE && from < CHANGE + AFTER ? SHORT_BLOCK : BLOCK;
            ToDoubleFunction<VisitTerms> slots = learn.apply(rows.subList(0, from));
            for (VisitRow row : rows.subList(from, Math.min(rows.size(), from + block))) {
                double slot = slots.applyAsDouble(row.terms());
                pinball += Scores.pinball(slot, SLOT, row.minutes());
                within.add(row.minutes() <= slot);
            }
        }
        return new Outcome(
                pinball / within.size(), share(within), share(within.subList(CHANGE - FIRST, CHANGE - FIRST + AFTER)));
    }

    private static double share(List<Boolean> within) {
        return (double) within.stream().filter(done -> done).count() / within.size();
    }
}
