package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.UnaryOperator;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Further properties of the whole estimator on seeded random tables; the seed is part of the test's name. */
class PropertiesTest {

    /** Another alphabetical order of the levels; the reference stays the reference. */
    private static final Map<String, String> OTHER_NAMES = Map.of(
            "loose",
            "z1",
            "sticky",
            "y2",
            "firm",
            "x3",
            "hard",
            "w4",
            "wide",
            "v5",
            "narrow",
            "u6",
            "very_narrow",
            "t7");

    private static final double[] PROBABILITIES = {0.1, 0.5, 0.8, 0.95};

    @ParameterizedTest
    @ValueSource(longs = {61, 62})
    void givesTheSameInHoursAsInMinutes(long seed) {
        List<VisitRow> minutes = RandomTables.rows(120, seed);
        List<VisitRow> hours = minutes.stream()
                .map(row -> new VisitRow(row.terms(), row.minutes() / 60, row.ending(), row.weight()))
                .toList();
        assertSame(completion(minutes, RandomTables.asked()), completion(hours, RandomTables.asked()), 1.0 / 60, 1e-6);
    }

    @ParameterizedTest
    @ValueSource(longs = {63, 64, 65})
    void doesNotDependOnTheOrderOfLevels(long seed) {
        // A day each: visits of one day are taken in an order that their content gives, names included.
        List<VisitRow> rows = aDayEach(RandomTables.rows(150, seed));
        UnaryOperator<String> other = level -> level == null ? null : OTHER_NAMES.getOrDefault(level, level);
        List<VisitRow> renamed = rows.stream()
                .map(row -> new VisitRow(renamed(row.terms(), other), row.minutes(), row.ending(), 1))
                .toList();
        assertSame(
                completion(rows, RandomTables.asked()),
                completion(renamed, renamed(RandomTables.asked(), other)),
                1,
                1e-6);
        VisitTerms hard = RandomTables.asked().reporting("right", "wax", "hard");
        assertSame(completion(rows, hard), completion(renamed, renamed(hard, other)), 1, 1e-6);
    }

    @ParameterizedTest
    @ValueSource(longs = {66, 67})
    void doesNotDependOnWhereALevelIsFirstMet(long seed) {
        List<VisitRow> rows = RandomTables.rows(150, seed);
        List<VisitRow> backwards = new ArrayList<>(rows);
        Collections.reverse(backwards);
        List<VisitRow> shuffled = new ArrayList<>(rows);
        Collections.shuffle(shuffled, new Random(seed));
        MinutesDistribution time = completion(rows, RandomTables.asked());
        assertSame(time, completion(backwards, RandomTables.asked()), 1, 1e-9);
        assertSame(time, completion(shuffled, RandomTables.asked()), 1, 1e-9);
    }

    @ParameterizedTest
    @ValueSource(longs = {68, 69})
    void givesTheSameTwiceToTheLastBit(long seed) {
        List<VisitRow> rows = RandomTables.rows(2600, seed);
        MinutesDistribution one = completion(rows, RandomTables.asked());
        MinutesDistribution other = completion(List.copyOf(rows), RandomTables.asked());
        for (double p : PROBABILITIES) {
            assertThat(other.quantile(p)).isEqualTo(one.quantile(p));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {70, 71, 72})
    void quantilesRiseAndInvertTheCdfFarOut(long seed) {
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(RandomTables.rows(200, seed));
        Prediction prediction = model.predict(RandomTables.asked());
        for (MinutesDistribution time : List.of(prediction.completion(), prediction.inRoom())) {
            double before = 0;
            for (double p : new double[] {1e-4, 1e-3, 0.01, 0.5, 0.99, 0.999, 0.9999}) {
                double at = time.quantile(p);
                assertThat(at).as("quantile %s", p).isGreaterThan(before).isFinite();
                assertThat(time.cdf(at)).as("cdf at quantile %s", p).isCloseTo(p, within(1e-8));
                before = at;
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {73, 74})
    void hearsMoreVisitsNotFewerWhereARowCountsTwice(long seed) {
        List<VisitRow> rows = RandomTables.rows(300, seed);
        VisitTerms slow = RandomTables.asked().reporting("right", "wax", "hard");
        List<VisitRow> withSlow = new ArrayList<>(rows);
        List<VisitRow> withSlowTwice = new ArrayList<>(rows);
        for (int i = 0; i < 20; i++) {
            VisitTerms seen = VisitTerms.of(
                    List.of(Term.level("first_visit", "no")),
                    List.of(Part.planned(
                            "right",
                            "microsuction",
                            Term.found("wax", "hard", "hard"),
                            Term.found("canal", null, "average"))),
                    "P1");
            withSlow.add(new VisitRow(seen, 60, Ending.COMPLETED, 1));
            withSlowTwice.add(new VisitRow(seen, 60, Ending.COMPLETED, 2));
        }
        double without = completion(rows, slow).quantile(0.5);
        double once = completion(withSlow, slow).quantile(0.5);
        double twice = completion(withSlowTwice, slow).quantile(0.5);
        assertThat(once).isGreaterThan(without);
        assertThat(twice).isGreaterThan(once);
    }

    @Test
    void refusesWeightsAndLatenessThatAreNone() {
        VisitTerms visit = RandomTables.asked();
        for (double weight : new double[] {Double.NaN, 0, -1, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> new VisitRow(visit, 12, Ending.COMPLETED, weight))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("weight is " + weight);
        }
        for (double late : new double[] {Double.NaN, -0.5, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> new VisitTerms(visit.once(), visit.parts(), "P1", null, null, 3, late))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("lateness is " + late);
        }
        for (double number : new double[] {Double.NaN, Double.NEGATIVE_INFINITY}) {
            assertThatThrownBy(() -> Term.number("age", number))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("age is " + number);
        }
        assertThatThrownBy(() -> new Term.Mixture("wax", Map.of("soft", Double.NaN)))
                .isInstanceOf(IllegalArgumentException.class);
    }

    private static List<VisitRow> aDayEach(List<VisitRow> rows) {
        List<VisitRow> apart = new ArrayList<>();
        for (VisitRow row : rows) {
            VisitTerms of = row.terms();
            VisitTerms moved = new VisitTerms(
                    of.once(), of.parts(), of.group(), of.person(), of.source(), apart.size(), of.lateness());
            apart.add(new VisitRow(moved, row.minutes(), row.ending(), row.weight()));
        }
        return apart;
    }

    private static MinutesDistribution completion(List<VisitRow> rows, VisitTerms visit) {
        return OncePlusParts.with(Priors.weak()).fit(rows).predict(visit).completion();
    }

    private static void assertSame(MinutesDistribution one, MinutesDistribution other, double unit, double enough) {
        for (double p : PROBABILITIES) {
            double expected = unit * one.quantile(p);
            assertThat(other.quantile(p)).as("quantile %s", p).isCloseTo(expected, within(enough * expected));
        }
    }

    private static VisitTerms renamed(VisitTerms visit, UnaryOperator<String> to) {
        List<Part> parts = visit.parts().stream()
                .map(part -> new Part(
                        part.name(),
                        part.kind(),
                        part.used(),
                        part.terms().stream().map(term -> renamed(term, to)).toList()))
                .toList();
        return new VisitTerms(
                visit.once(), parts, visit.group(), visit.person(), visit.source(), visit.day(), visit.lateness());
    }

    private static Term renamed(Term term, UnaryOperator<String> to) {
        return term instanceof Term.Finding finding
                ? Term.found(term.factor(), to.apply(finding.reported()), to.apply(finding.found()))
                : term;
    }
}
