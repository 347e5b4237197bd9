package org.earslot.duration.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.earslot.duration.RandomTables;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Tables with a known truth: time exp(2.7 + 0.35 z), stopped for comfort at a hazard of 0.01 exp(gamma z) a minute. */
class InformativeStopsTest {

    private static final double TRUE_MEDIAN = Math.exp(2.7);
    private static final VisitTerms VISIT =
            VisitTerms.of(List.of(), List.of(Part.planned("right", "microsuction")), null);

    @ParameterizedTest
    @ValueSource(longs = {51, 52, 53})
    void findsTheMedianWhereHardVisitsAreStopped(long seed) {
        List<VisitRow> rows = rows(3000, 1, seed);
        List<Double> medians = medians(rows, List.of(0.0, 0.5, 1.0));
        assertThat(medians.get(0)).as("stops taken to say nothing").isLessThan(0.96 * TRUE_MEDIAN);
        assertThat(medians.get(2)).as("as it is").isCloseTo(TRUE_MEDIAN, within(0.02 * TRUE_MEDIAN));
        assertThat(medians).isSorted();
    }

    @ParameterizedTest
    @ValueSource(longs = {54, 55})
    void findsTheMedianAtNoughtWhereStopsSayNothing(long seed) {
        assertThat(medians(rows(3000, 0, seed), List.of(0.0)).get(0))
                .isCloseTo(TRUE_MEDIAN, within(0.02 * TRUE_MEDIAN));
    }

    @Test
    void movesNothingWhereNobodyWasStoppedForComfort() {
        List<VisitRow> rows = RandomTables.rows(300, 56).stream()
                .map(row -> new VisitRow(
                        row.terms(), row.minutes(), row.stoppedEarly() ? Ending.STOPPED_FOR_TIME : Ending.COMPLETED, 1))
                .toList();
        List<Double> medians = medians(rows, List.of(0.0, 1.0));
        assertThat(medians.get(1)).isCloseTo(medians.get(0), within(0.03 * medians.get(0)));
    }

    @Test
    void answersOnNoVisitsAndRefusesWhatIsNoGamma() {
        assertThat(medians(List.of(), List.of(0.0, 1.0)))
                .allSatisfy(median -> assertThat(median).isBetween(2.0, 60.0));
        for (double gamma : new double[] {Double.NaN, -0.5, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> InformativeStops.fits(List.of(), Priors.earCare(), List.of(gamma)))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("gamma is " + gamma);
        }
    }

    private static List<Double> medians(List<VisitRow> rows, List<Double> gammas) {
        return InformativeStops.fits(rows, Priors.earCare(), gammas).stream()
                .map(model -> model.predict(VISIT).completion().quantile(0.5))
                .toList();
    }

    private static List<VisitRow> rows(int count, double gamma, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            double z = random.nextGaussian();
            double minutes = Math.exp(2.7 + 0.35 * z);
            double stop = -Math.log(1 - random.nextDouble()) / (0.01 * Math.exp(gamma * z));
            rows.add(VISIT.took(
                    Math.min(minutes, stop), stop < minutes ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED));
        }
        return rows;
    }
}
