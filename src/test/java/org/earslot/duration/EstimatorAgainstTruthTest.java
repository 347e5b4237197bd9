package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.judge.Baselines;
import org.earslot.duration.judge.LogLinear;
import org.earslot.duration.table.Priors;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.Trial;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * The estimator on small invented clinics whose truth is not of its form. The benchmark beside this test measures the same
 * on more and larger clinics; the bounds here leave room for three clinics and 150 visits each.
 */
class EstimatorAgainstTruthTest {

    private static final List<Trial> TRIALS = new ArrayList<>();

    @BeforeAll
    static void inventClinics() {
        for (long seed = 31; seed <= 33; seed++) {
            TRIALS.add(Trial.of(InventedClinic.of(seed, 2, 2650), 2500, 150));
        }
    }

    @Test
    void staysNearTheFloorAndBeatsItsRivals() {
        double ours = meanAbove(OncePlusParts.with(Priors.earCare()));

        assertThat(ours).isLessThan(0.025);
        assertThat(ours).isLessThan(0.6 * meanAbove(LogLinear.flat()));
        assertThat(ours).isLessThan(0.3 * meanAbove(Baselines.quantilesByKind()));
    }

    @Test
    void coversWhatItSaysByMethodAndByEars() {
        TrialScore score = new TrialScore();
        TRIALS.forEach(trial -> score.add(trial, OncePlusParts.with(Priors.earCare())));

        assertThat(score.group("all").coverage(1)).isBetween(0.775, 0.825);
        score.groups().forEach((group, sums) -> {
            if (group.startsWith("method ") || group.startsWith("ears ")) {
                assertThat(sums.coverage(1)).as(group).isBetween(0.74, 0.86);
            }
        });
    }

    @Test
    void losesNoMoreThanAskedAgainstWhoKnowsTheReferralAlone() {
        TrialScore score = new TrialScore();
        TRIALS.forEach(trial -> score.add(trial, OncePlusParts.with(Priors.earCare())));

        assertThat(score.group("all").aboveReferral(1)).isLessThan(0.015);
    }

    private static double meanAbove(Estimator estimator) {
        TrialScore score = new TrialScore();
        return TRIALS.stream()
                .mapToDouble(trial -> score.add(trial, estimator))
                .average()
                .orElseThrow();
    }
}
