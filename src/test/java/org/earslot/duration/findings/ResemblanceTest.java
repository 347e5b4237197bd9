package org.earslot.duration.findings;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.earslot.duration.FittedModel;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;

class ResemblanceTest {

    private static final double[] GENERAL = {0.5, 0.3, 0.2};

    @Test
    void takes_parts_as_alike_as_assumed_before_any_is_seen() {
        Resemblance.Tally none = new Resemblance.Tally(3, 0.25);
        double[] together = none.resemblance(GENERAL).together(GENERAL, GENERAL);
        // 0.75 p q, and 0.25 p where both are the same; the grid holds 0.2 and 0.3 only.
        assertThat(together[1]).isBetween(0.7 * 0.15, 0.8 * 0.15);
        assertThat(together[1]).isCloseTo(together[3], within(1e-12));
        assertThat(sumOf(together)).isCloseTo(1, within(1e-12));
    }

    @Test
    void finds_no_likeness_where_there_is_none() {
        Resemblance.Tally apart = new Resemblance.Tally(3, 0.3);
        for (int one = 0; one < 3; one++) {
            for (int other = 0; other < 3; other++) {
                apart.count(one, other, 2000 * GENERAL[one] * GENERAL[other]);
            }
        }
        double[] together = apart.resemblance(GENERAL).together(new double[] {1, 0, 0}, GENERAL);
        for (int level = 0; level < 3; level++) {
            assertThat(together[level]).isCloseTo(GENERAL[level], within(0.01));
        }
    }

    @Test
    void says_of_the_other_part_what_was_seen_together() {
        Resemblance.Tally same = new Resemblance.Tally(3, 0.1);
        // Nine in ten alike.
        for (int level = 0; level < 3; level++) {
            same.count(level, level, 900 * GENERAL[level]);
            same.count(level, (level + 1) % 3, 50 * GENERAL[level]);
            same.count(level, (level + 2) % 3, 50 * GENERAL[level]);
        }
        double[] together = same.resemblance(GENERAL).together(new double[] {0, 0, 1}, GENERAL);
        double[] other = {together[6], together[7], together[8]};
        assertThat(other[2]).isCloseTo(0.86, within(0.05));
        assertThat(sumOf(other)).isCloseTo(1, within(1e-12));
    }

    @Test
    void widens_and_moves_what_is_forecast_of_two_parts() {
        FittedModel alike = OncePlusParts.with(Priors.weak()).fit(visits(true));
        FittedModel apart = OncePlusParts.with(Priors.weak()).fit(visits(false));
        // VarianceComponents 10 or 34 against 10, 22, 22 or 34: standard deviations 12 and 8.5.
        assertThat(of(alike, null, null).standardDeviation())
                .isGreaterThan(1.2 * of(apart, null, null).standardDeviation());
        assertThat(median(alike, "slow", null) / median(alike, "quick", null))
                .isGreaterThan(1.25 * median(apart, "slow", null) / median(apart, "quick", null));
        // Of one part alone nothing is said by the other.
        assertThat(median(alike, "slow")).isCloseTo(median(apart, "slow"), within(0.08 * median(apart, "slow")));
    }

    private static double median(FittedModel model, String... reported) {
        return of(model, reported).quantile(0.5);
    }

    private static MinutesDistribution of(FittedModel model, String... reported) {
        List<Part> parts = new ArrayList<>();
        for (String report : reported) {
            parts.add(Part.planned("part " + parts.size(), "work", Term.found("state", report, null)));
        }
        return model.predict(VisitTerms.of(List.of(), parts, "P")).completion();
    }

    /** Slow parts take four times as long; both are in the same state or each in its own. */
    private static List<VisitRow> visits(boolean alike) {
        Random random = new Random(11);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 1500; i++) {
            boolean first = random.nextBoolean();
            boolean second = random.nextBoolean();
            List<Part> parts = new ArrayList<>();
            parts.add(part(0, first));
            double minutes = 2 + (first ? 16 : 4);
            if (i % 3 != 0) {
                parts.add(part(1, alike ? first : second));
                minutes += (alike ? first : second) ? 16 : 4;
            }
            rows.add(VisitTerms.of(List.of(), parts, "P")
                    .took(minutes * Math.exp(0.1 * random.nextGaussian()), Ending.COMPLETED));
        }
        return rows;
    }

    private static Part part(int number, boolean slow) {
        String found = slow ? "slow" : "quick";
        return Part.planned("part " + number, "work", Term.found("state", number == 0 ? found : null, found));
    }

    private static double sumOf(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum;
    }
}
