package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.LongStream;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.knowledge.ElicitedMinutes;
import org.earslot.duration.knowledge.ExpertKnowledge;
import org.earslot.duration.table.Priors;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.KnownQuantiles;
import org.earslot.invented.Trial;
import org.junit.jupiter.api.Test;

/**
 * Small invented clinics whose lead says the true medians and 90 % points rounded to 5 minutes. {@link KnowledgeBenchmark}
 * measures the same on more and larger ones; the bounds here leave room for three clinics and 80 visits each.
 */
class KnowledgeAgainstTruthTest {

    private static final long[] SEEDS = {61, 62, 63};
    private static final int JUDGED = 80;
    private static final Map<List<Long>, Trial> TRIALS = new HashMap<>();
    private static final Function<Long, List<ElicitedMinutes>> NOTHING = seed -> List.of();

    @Test
    void forecasts_without_a_visit_far_better_than_with_nothing_said() {
        TrialScore informed = new TrialScore();
        double above = above(0, said(5, 1), 1, informed);

        assertThat(above).isLessThan(0.15).isLessThan(0.6 * above(0, NOTHING, 1, new TrialScore()));
        assertThat(informed.group("all").coverage(1)).isBetween(0.76, 0.86);
    }

    @Test
    void forecasts_a_clinic_that_priors_are_wrong_about() {
        TrialScore informed = new TrialScore();
        double above = above(0, said(5, 0.6), 0.6, informed);

        assertThat(above).isLessThan(0.15).isLessThan(0.2 * above(0, NOTHING, 0.6, new TrialScore()));
        assertThat(informed.group("all").coverage(1)).isBetween(0.76, 0.86);
    }

    @Test
    void is_better_with_few_visits_and_no_worse_with_many() {
        assertThat(above(40, said(5, 1), 1, new TrialScore())).isLessThan(above(40, NOTHING, 1, new TrialScore()));
        assertThat(above(150, said(5, 1), 1, new TrialScore()))
                .isLessThan(0.002 + above(150, NOTHING, 1, new TrialScore()));
    }

    @Test
    void overcomes_answers_wrong_by_a_factor_of_two_within_150_visits() {
        double alone = above(150, NOTHING, 1, new TrialScore());

        assertThat(above(150, said(1, 0.5), 1, new TrialScore())).isLessThan(0.01 + alone);
        assertThat(above(150, said(5, 2), 1, new TrialScore())).isLessThan(0.01 + alone);
        assertThat(above(0, said(5, 2), 1, new TrialScore())).isGreaterThan(1);
    }

    private static Function<Long, List<ElicitedMinutes>> said(int grid, double times) {
        return seed -> KnownQuantiles.of(seed, 2, grid, times);
    }

    /** The mean above the floor after so many visits, in clinics at a pace. */
    private static double above(int visits, Function<Long, List<ElicitedMinutes>> said, double pace, TrialScore score) {
        return LongStream.of(SEEDS)
                .mapToDouble(seed -> {
                    Trial trial = TRIALS.computeIfAbsent(
                            List.of(seed, (long) visits),
                            any -> Trial.of(InventedClinic.of(seed, 2, visits + JUDGED), visits, JUDGED));
                    Estimator informed =
                            new ExpertKnowledge(said.apply(seed)).informing(OncePlusParts.with(Priors.earCare()));
                    return score.add(trial, new AtAnotherPace(informed, pace));
                })
                .average()
                .orElseThrow();
    }
}
