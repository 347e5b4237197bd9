package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.function.LongFunction;
import java.util.function.ToDoubleFunction;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.judge.LogLinear;
import org.earslot.duration.judge.Scores;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.ProcedureTables;
import org.junit.jupiter.api.Test;

/**
 * Tables that drift slowly, change sharply, and do neither: forecasts are never behind what does not follow, and they keep
 * their promise. {@link ProcedureBenchmark} measures the same on more and longer tables.
 */
class FollowedDriftTest {

    private static final double SLOT = 0.8;
    private static final int CASES = 2200;
    private static final int CHANGE = 1500;
    private static final int FIRST = 1400;
    private static final int BLOCK = 200;
    private static final long[] SEEDS = {41, 42, 43};

    @Test
    void keeps_up_where_nothing_drifts() {
        compare(seed -> ProcedureTables.sharedSetUp(seed, CASES));
    }

    @Test
    void keeps_up_with_a_slow_drift() {
        compare(seed -> ProcedureTables.slowDrift(seed, CASES, 0.25));
    }

    @Test
    void keeps_up_after_a_sharp_change() {
        compare(seed -> ProcedureTables.changeOfPractice(seed, CASES, CHANGE));
    }

    @Test
    void tells_a_slow_drift_from_a_sharp_change_and_from_none() {
        for (long seed : SEEDS) {
            FollowedDrift slow = fitted(ProcedureTables.slowDrift(seed, CASES, 0.4));
            assertThat(slow.changed()).isFalse();
            assertThat(slow.yearly()).isBetween(0.05, 0.9);
            assertThat(slow.gain()).isGreaterThan(3);
            FollowedDrift sharp = fitted(ProcedureTables.changeOfPractice(seed, CASES, CHANGE));
            // Six cases a day.
            assertThat(sharp.changeDay()).isBetween(CHANGE / 6L - 12, CHANGE / 6L + 12);
            assertThat(fitted(ProcedureTables.sharedSetUp(seed, CASES)).changed())
                    .isFalse();
        }
    }

    @Test
    void finds_the_same_change_in_every_later_fit() {
        List<VisitRow> rows = ProcedureTables.changeOfPractice(44, CASES, CHANGE);
        for (int upTo = CHANGE + 100; upTo < CASES; upTo += 50) {
            assertThat(fitted(rows.subList(0, upTo)).changeDay())
                    .as("day of change after %d cases", upTo)
                    .isBetween(CHANGE / 6L - 12, CHANGE / 6L + 12);
        }
    }

    @Test
    void can_be_switched_off() {
        List<VisitRow> rows = ProcedureTables.changeOfPractice(44, CASES, CHANGE);
        FittedModel model = OncePlusParts.with(Priors.weak()).withoutDrift().fit(rows);
        assertThat(model.drift()).isEqualTo(FollowedDrift.NONE);
    }

    private static FollowedDrift fitted(List<VisitRow> rows) {
        return OncePlusParts.with(Priors.weak()).fit(rows).drift();
    }

    private static void compare(LongFunction<List<VisitRow>> table) {
        double core = 0;
        double logLinear = 0;
        double regression = 0;
        double covered = 0;
        for (long seed : SEEDS) {
            List<VisitRow> rows = table.apply(seed);
            double[] own = judge(rows, OncePlusParts.with(Priors.weak()));
            core += own[0];
            covered += own[1] / SEEDS.length;
            logLinear += judge(rows, LogLinear.with(Priors.weak()))[0];
            for (int from = FIRST; from < CASES; from += BLOCK) {
                ToDoubleFunction<VisitTerms> slots = QuantileRegression.learn(rows.subList(0, from), SLOT);
                for (VisitRow row : rows.subList(from, Math.min(CASES, from + BLOCK))) {
                    regression += Scores.pinball(slots.applyAsDouble(row.terms()), SLOT, row.minutes());
                }
            }
        }
        assertThat(core).isLessThan(1.005 * Math.min(logLinear, regression));
        assertThat(covered).isBetween(0.77, 0.83);
    }

    /** The sum of quantile scores, and the share covered. */
    private static double[] judge(List<VisitRow> rows, Estimator estimator) {
        double sum = 0;
        double within = 0;
        for (int from = FIRST; from < CASES; from += BLOCK) {
            FittedModel model = estimator.fit(rows.subList(0, from));
            for (VisitRow row : rows.subList(from, Math.min(CASES, from + BLOCK))) {
                double slot = model.predict(row.terms()).completion().quantile(SLOT);
                sum += Scores.pinball(slot, SLOT, row.minutes());
                within += row.minutes() <= slot ? 1 : 0;
            }
        }
        return new double[] {sum, within / (CASES - FIRST)};
    }
}
