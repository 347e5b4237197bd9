package org.earslot.duration;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.knowledge.ElicitedMinutes;
import org.earslot.duration.knowledge.ExpertKnowledge;
import org.earslot.duration.table.Priors;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.KnownQuantiles;
import org.earslot.invented.Trial;

/**
 * Prints how far forecasts are above the perfect forecaster by number of own visits, without and with what the lead says:
 * the true medians and 90 % points rounded to 5 minutes; only the medians; half and twice the true minutes.
 *
 * <p>Goal: with no visit at most 15 % and the 80 % point covering 76 to 86 %; with visits never worse than without.
 *
 * <p>Arguments (all optional): clinics, first seed, visits judged in each, sizes separated by commas, and by what all minutes of
 * the clinics are multiplied.
 */
public final class KnowledgeBenchmark {

    private KnowledgeBenchmark() {}

    public static void main(String[] arguments) {
        int clinics = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 4;
        long firstSeed = arguments.length > 1 ? Long.parseLong(arguments[1]) : 701;
        int judged = arguments.length > 2 ? Integer.parseInt(arguments[2]) : 300;
        int[] sizes = Arrays.stream((arguments.length > 3 ? arguments[3] : "0,40,150,600").split(","))
                .mapToInt(Integer::parseInt)
                .toArray();
        double pace = arguments.length > 4 ? Double.parseDouble(arguments[4]) : 1;
        int most = Arrays.stream(sizes).max().orElse(0) + judged;
        Map<Long, InventedClinic> invented = new LinkedHashMap<>();
        for (long seed = firstSeed; seed < firstSeed + clinics; seed++) {
            invented.put(seed, InventedClinic.of(seed, practitioners(seed), most));
        }
        Map<String, Map<Long, List<ElicitedMinutes>>> ways = new LinkedHashMap<>();
        ways.put("nothing said", new LinkedHashMap<>());
        for (long seed : invented.keySet()) {
            List<ElicitedMinutes> right = KnownQuantiles.of(seed, practitioners(seed), 5, pace);
            say(ways, "true, rounded to 5", seed, right);
            say(
                    ways,
                    "medians alone",
                    seed,
                    right.stream()
                            .map(one -> new ElicitedMinutes(one.visit(), one.usual(), null))
                            .toList());
            say(ways, "half", seed, KnownQuantiles.of(seed, practitioners(seed), 1, 0.5 * pace));
            say(ways, "twice", seed, KnownQuantiles.of(seed, practitioners(seed), 5, 2 * pace));
        }
        System.out.printf(
                "%d clinics from seed %d, %d visits judged in each, minutes times %.2f%n",
                clinics, firstSeed, judged, pace);
        ways.get("true, rounded to 5").forEach((seed, said) -> {
            ExpertKnowledge knowledge = new ExpertKnowledge(said);
            FittedModel model =
                    knowledge.informing(OncePlusParts.with(Priors.earCare())).fit(List.of());
            System.out.printf("clinic %d: outweighed after %d visits%n", seed, knowledge.outweighedAfter(model));
        });
        System.out.printf(
                "%-20s %7s %8s %8s %8s   %s%n", "said", "visits", "mean", "least", "most", "coverage 50/80/90/95");
        for (int size : sizes) {
            List<Trial> trials = invented.values().stream()
                    .map(clinic -> Trial.of(clinic, size, judged, Path.of("target", "truths")))
                    .toList();
            ways.forEach((name, said) -> print(name, size, trials, List.copyOf(invented.keySet()), said, pace));
        }
    }

    private static int practitioners(long seed) {
        return 2 + (int) (seed % 3);
    }

    private static void say(
            Map<String, Map<Long, List<ElicitedMinutes>>> ways, String name, long seed, List<ElicitedMinutes> said) {
        ways.computeIfAbsent(name, any -> new LinkedHashMap<>()).put(seed, said);
    }

    private static void print(
            String name,
            int size,
            List<Trial> trials,
            List<Long> seeds,
            Map<Long, List<ElicitedMinutes>> said,
            double pace) {
        TrialScore score = new TrialScore();
        List<Double> above = new ArrayList<>();
        for (int i = 0; i < trials.size(); i++) {
            ExpertKnowledge knowledge = new ExpertKnowledge(said.getOrDefault(seeds.get(i), List.of()));
            Estimator informed = knowledge.informing(OncePlusParts.with(Priors.earCare()));
            above.add(score.add(trials.get(i), new AtAnotherPace(informed, pace)));
        }
        TrialScore.Sums all = score.group("all");
        System.out.printf(
                Locale.ROOT,
                "%-20s %7d %7.2f%% %7.2f%% %7.2f%%   %.1f %.1f %.1f %.1f  long by %+.1f%n",
                name,
                size,
                100 * above.stream().mapToDouble(Double::doubleValue).average().orElse(Double.NaN),
                100 * above.stream().mapToDouble(Double::doubleValue).min().orElse(Double.NaN),
                100 * above.stream().mapToDouble(Double::doubleValue).max().orElse(Double.NaN),
                100 * all.coverage(0),
                100 * all.coverage(1),
                100 * all.coverage(2),
                100 * all.coverage(3),
                100 * all.ratio(0));
    }
}
