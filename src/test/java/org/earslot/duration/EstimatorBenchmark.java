package org.earslot.duration;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.judge.Baselines;
import org.earslot.duration.judge.LogLinear;
import org.earslot.duration.table.Priors;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.Trial;

/**
 * Prints how far estimators are above the perfect forecaster on invented clinics, by number of past visits: mean, least and
 * most of the clinics above one who knows the patients' earlier visits too, then all together above one who knows what the
 * referral says alone; the estimator's figures beside their goals.
 *
 * <p>Run: {@code mvn -Pbench test-compile exec:java -Dexec.classpathScope=test
 * -Dexec.mainClass=org.earslot.duration.EstimatorBenchmark}; arguments (all optional): clinics, first seed, visits judged
 * in each, sizes separated by commas, and "groups" to print the estimator in force by group.
 */
public final class EstimatorBenchmark {

    /** What the estimator is to reach above who knows the patients' earlier visits, in per cent, by past visits. */
    private static final Map<Integer, Double> GOALS = Map.of(40, 6.0, 150, 3.5, 600, 2.0, 2500, 1.0, 10_000, 0.4);

    private EstimatorBenchmark() {}

    public static void main(String[] arguments) {
        int clinics = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 5;
        long firstSeed = arguments.length > 1 ? Long.parseLong(arguments[1]) : 101;
        int judged = arguments.length > 2 ? Integer.parseInt(arguments[2]) : 400;
        int[] sizes = arguments.length > 3
                ? Arrays.stream(arguments[3].split(","))
                        .mapToInt(Integer::parseInt)
                        .toArray()
                : new int[] {0, 40, 150, 600, 2500, 10_000};
        boolean groups = arguments.length > 4;
        List<InventedClinic> invented = new ArrayList<>();
        int most = Arrays.stream(sizes).max().orElse(0) + judged;
        for (long seed = firstSeed; seed < firstSeed + clinics; seed++) {
            invented.add(InventedClinic.of(seed, 2 + (int) (seed % 3), most));
        }
        System.out.printf(
                "%d clinics, %d visits judged in each; expected quantile score above the floor at 0.8%n",
                clinics, judged);
        System.out.printf(
                "%-24s %7s %8s %8s %8s %8s   %s%n",
                "estimator", "visits", "mean", "least", "most", "referral", "coverage 50/80/90/95");
        for (int size : sizes) {
            List<Trial> trials = invented.stream()
                    .map(clinic -> Trial.of(clinic, size, judged, Path.of("target", "truths")))
                    .toList();
            contestants(size)
                    .forEach((name, estimator) ->
                            print(name, size, trials, estimator, groups && !(estimator instanceof LogLinear)));
        }
    }

    private static Map<String, Estimator> contestants(int size) {
        Map<String, Estimator> contestants = new LinkedHashMap<>();
        contestants.put("log-linear with priors", LogLinear.with(Priors.earCare()));
        contestants.put("once plus parts", OncePlusParts.with(Priors.earCare()));
        if (size >= 150) {
            contestants.put("log-linear, ordinary", LogLinear.flat());
        }
        contestants.put("by method and ears", Baselines.quantilesByKind());
        contestants.put("fixed slot", Baselines.fixedSlot());
        return contestants;
    }

    private static void print(String name, int size, List<Trial> trials, Estimator estimator, boolean groups) {
        TrialScore score = new TrialScore();
        double[] above = new double[trials.size()];
        for (int i = 0; i < above.length; i++) {
            above[i] = score.add(trials.get(i), estimator);
        }
        TrialScore.Sums all = score.group("all");
        System.out.printf(
                Locale.ROOT,
                "%-24s %7d %7.2f%% %7.2f%% %7.2f%% %7.2f%%   %.1f %.1f %.1f %.1f%n",
                name,
                size,
                100 * Arrays.stream(above).average().orElse(Double.NaN),
                100 * Arrays.stream(above).min().orElse(Double.NaN),
                100 * Arrays.stream(above).max().orElse(Double.NaN),
                100 * all.aboveReferral(1),
                100 * all.coverage(0),
                100 * all.coverage(1),
                100 * all.coverage(2),
                100 * all.coverage(3));
        if (estimator instanceof OncePlusParts && GOALS.containsKey(size)) {
            double[] byMethod = score.groups().entrySet().stream()
                    .filter(group -> group.getKey().matches("method \\w+"))
                    .mapToDouble(group -> group.getValue().coverage(1))
                    .toArray();
            System.out.printf(
                    Locale.ROOT,
                    "    goal: %.1f%% (is %.2f%%; above the referral %.2f%%); 80 %% point covers 78 to 82 (is %.1f), each"
                            + " method 74 to 86 (is %.1f to %.1f)%n",
                    GOALS.get(size),
                    100 * Arrays.stream(above).average().orElse(Double.NaN),
                    100 * all.aboveReferral(1),
                    100 * all.coverage(1),
                    100 * Arrays.stream(byMethod).min().orElse(Double.NaN),
                    100 * Arrays.stream(byMethod).max().orElse(Double.NaN));
        }
        if (groups) {
            score.groups().forEach(EstimatorBenchmark::print);
        }
    }

    /** Coverage and log ratio of the forecast's quantiles to the true ones, in percent. */
    private static void print(String group, TrialScore.Sums sums) {
        System.out.printf(
                Locale.ROOT,
                "    %-36s n %5d  above %6.2f%% (50: %.2f%%, 95: %.2f%%)  covers %.1f %.1f %.1f %.1f  long by %+.1f %+.1f"
                        + " %+.1f %+.1f%n",
                group,
                sums.visits,
                100 * sums.above(1),
                100 * sums.above(0),
                100 * sums.above(3),
                100 * sums.coverage(0),
                100 * sums.coverage(1),
                100 * sums.coverage(2),
                100 * sums.coverage(3),
                100 * sums.ratio(0),
                100 * sums.ratio(1),
                100 * sums.ratio(2),
                100 * sums.ratio(3));
    }
}
