package org.earslot.duration.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.UnaryOperator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.RandomTables;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.ValueOfInformation;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Properties of the full estimator on seeded random tables; the seed is part of the test's name. */
class OncePlusPartsTest {

    private static final double[] PROBABILITIES = {0.1, 0.5, 0.8, 0.9, 0.95};

    @Test
    void runsTheTenLinesOfItsClassComment() {
        List<VisitRow> rows = new ArrayList<>();
        rows.add(VisitTerms.of(
                        List.of(Term.level("first", "yes")),
                        List.of(
                                Part.planned("right", "suction", Term.found("wax", null, "hard")),
                                Part.planned("left", "suction", Term.found("wax", "soft", "soft"))),
                        "P1")
                .took(24, Ending.COMPLETED));
        FittedModel model = OncePlusParts.with(Priors.weak()).fit(rows);
        VisitTerms next =
                VisitTerms.of(List.of(), List.of(Part.planned("right", "suction", Term.unknown("wax"))), "P1");
        double fourInFive = model.predict(next).completion().quantile(0.8);
        assertThat(fourInFive).isBetween(8.0, 80.0);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void givesTheSameInSecondsAsInMinutes(long seed) {
        List<VisitRow> minutes = RandomTables.rows(120, seed);
        List<VisitRow> seconds = minutes.stream()
                .map(row -> new VisitRow(row.terms(), 60 * row.minutes(), row.ending(), row.weight()))
                .toList();
        MinutesDistribution inMinutes = completion(Priors.weak(), minutes);
        MinutesDistribution inSeconds = completion(Priors.weak(), seconds);
        for (double p : PROBABILITIES) {
            assertThat(inSeconds.quantile(p))
                    .isCloseTo(60 * inMinutes.quantile(p), within(1e-6 * inSeconds.quantile(p)));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {4, 5, 6})
    void doesNotDependOnTheOrderOfRows(long seed) {
        List<VisitRow> rows = RandomTables.rows(150, seed);
        List<VisitRow> shuffled = new ArrayList<>(rows);
        Collections.shuffle(shuffled, new Random(seed));
        MinutesDistribution one = completion(Priors.earCare(), rows);
        MinutesDistribution other = completion(Priors.earCare(), shuffled);
        for (double p : PROBABILITIES) {
            assertThat(other.quantile(p)).isCloseTo(one.quantile(p), within(1e-9 * one.quantile(p)));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {7, 8})
    void doesNotDependOnWhatLevelsAreCalled(long seed) {
        List<VisitRow> rows = RandomTables.rows(150, seed);
        UnaryOperator<String> renamed = level -> level == null ? null : "z" + (char) ('z' - level.charAt(0) + 'a');
        List<VisitRow> others = rows.stream()
                .map(row -> new VisitRow(renamed(row.terms(), renamed), row.minutes(), row.ending(), row.weight()))
                .toList();
        // Which level is the reference shows a little in a table this small, through the priors.
        MinutesDistribution one = completion(Priors.weak(), rows);
        MinutesDistribution other = OncePlusParts.with(Priors.weak())
                .fit(others)
                .predict(renamed(RandomTables.asked(), renamed))
                .completion();
        for (double p : PROBABILITIES) {
            assertThat(other.quantile(p)).isCloseTo(one.quantile(p), within(0.1 * one.quantile(p)));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {9, 10, 11})
    void weighsTwiceLikeTwoRows(long seed) {
        List<VisitRow> rows = nobody(RandomTables.rows(80, seed));
        List<VisitRow> twice = new ArrayList<>(rows);
        twice.addAll(rows.subList(0, 30));
        List<VisitRow> heavy = new ArrayList<>();
        for (int i = 0; i < rows.size(); i++) {
            VisitRow row = rows.get(i);
            heavy.add(new VisitRow(row.terms(), row.minutes(), row.ending(), i < 30 ? 2 : 1));
        }
        assertSame(fit(twice), fit(heavy), 1e-7);
    }

    @ParameterizedTest
    @ValueSource(longs = {12, 13, 14})
    void learnsNothingFromAVisitStoppedEarlyAtOnce(long seed) {
        List<VisitRow> rows = nobody(RandomTables.rows(80, seed));
        List<VisitRow> more = new ArrayList<>(rows);
        // The same terms as a visit already there, so that the columns are the same.
        more.add(new VisitRow(rows.get(3).terms(), 1e-7, Ending.STOPPED_FOR_TIME, 1));
        Fit with = fit(more);
        Fit without = fit(rows);
        for (int j = 0; j < with.beta.length; j++) {
            assertThat(with.beta[j]).isCloseTo(without.beta[j], within(2e-3));
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {15, 16, 17})
    void quantilesRiseAndInvertTheCdf(long seed) {
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(RandomTables.rows(200, seed));
        for (MinutesDistribution time : List.of(
                model.predict(RandomTables.asked()).completion(),
                model.predict(RandomTables.asked()).inRoom())) {
            double before = 0;
            for (double p = 0.01; p < 0.995; p += 0.01) {
                double at = time.quantile(p);
                assertThat(at).isGreaterThan(before);
                assertThat(time.cdf(at)).isCloseTo(p, within(1e-9));
                before = at;
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {18, 19, 20})
    void billAddsUpToTheMedian(long seed) {
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(RandomTables.rows(200, seed));
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < 20; i++) {
            VisitTerms visit = RandomTables.rows(1, random.nextLong()).get(0).terms();
            Prediction prediction = model.predict(visit);
            double sum = prediction.why().stream()
                    .mapToDouble(Prediction.Item::minutes)
                    .sum();
            assertThat(sum).isCloseTo(prediction.completion().quantile(0.5), within(1e-9));
            assertThat(prediction.why())
                    .allSatisfy(item -> assertThat(item.minutes()).isBetween(item.low(), item.high()));
        }
    }

    @Test
    void widensWhatIsNotKnown() {
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(RandomTables.rows(600, 21));
        VisitTerms known = RandomTables.asked().reporting("right", "wax", "soft");
        assertThat(ValueOfInformation.spread(model.predict(RandomTables.asked()).completion()))
                .isGreaterThan(ValueOfInformation.spread(model.predict(known).completion()));
        assertThat(model.predict(RandomTables.asked()).ask()).isNotEmpty();
    }

    @Test
    void remembersAPersonsOwnPace() {
        List<VisitRow> rows = new ArrayList<>(RandomTables.rows(400, 22));
        for (int day = 0; day < 6; day++) {
            VisitTerms visit = RandomTables.asked();
            rows.add(new VisitTerms(visit.once(), visit.parts(), "P1", "slow", null, 10 + day, 0)
                    .took(45, Ending.COMPLETED));
        }
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(rows);
        VisitTerms visit = RandomTables.asked();
        VisitTerms slow = new VisitTerms(visit.once(), visit.parts(), "P1", "slow", null, 999, 0);
        VisitTerms stranger = new VisitTerms(visit.once(), visit.parts(), "P1", "new", null, 999, 0);
        assertThat(model.predict(slow).completion().quantile(0.5))
                .isGreaterThan(1.1 * model.predict(stranger).completion().quantile(0.5));
    }

    @Test
    void takesVisitsStoppedEarlyAsLowerBounds() {
        List<VisitRow> rows = RandomTables.rows(500, 23);
        List<VisitRow> halved = new ArrayList<>();
        for (int i = 0; i < rows.size(); i++) {
            VisitRow row = rows.get(i);
            halved.add(
                    i % 4 == 0
                            ? new VisitRow(row.terms(), row.minutes() / 2, Ending.STOPPED_FOR_TIME, 1)
                            : new VisitRow(row.terms(), row.minutes(), Ending.COMPLETED, 1));
        }
        double whole = completion(Priors.earCare(), rows).quantile(0.5);
        double censored = completion(Priors.earCare(), halved).quantile(0.5);
        assertThat(censored).isCloseTo(whole, within(0.08 * whole));
    }

    @Test
    void followsASharpChangeOfPractice() {
        List<VisitRow> rows = RandomTables.rows(1200, 24);
        List<VisitRow> changed = new ArrayList<>();
        for (int i = 0; i < rows.size(); i++) {
            VisitRow row = rows.get(i);
            double minutes = i < 1100 ? row.minutes() : row.minutes() * 0.6;
            changed.add(new VisitRow(row.terms(), minutes, row.ending(), 1));
        }
        double before = completion(Priors.earCare(), rows).quantile(0.5);
        double after = completion(Priors.earCare(), changed).quantile(0.5);
        assertThat(after / before).isBetween(0.5, 0.72);
    }

    // ---- degenerate tables
    // -------------------------------------------------------------------------------------------

    @Test
    void answersWithoutAnyVisit() {
        check(List.of());
    }

    @Test
    void answersAfterOneVisit() {
        check(RandomTables.rows(1, 30));
    }

    @Test
    void answersWhereOnlyOneMethodWasSeen() {
        check(RandomTables.rows(90, 31).stream()
                .filter(row -> row.terms().parts().get(0).kind().equals("irrigation"))
                .toList());
    }

    @Test
    void answersWhereOnlyBothEarsWereSeen() {
        check(RandomTables.rows(90, 32).stream()
                .filter(row -> row.terms().parts().size() == 2)
                .toList());
    }

    @Test
    void answersWithOnePractitionerAndWithOneVisitOfAnother() {
        List<VisitRow> one = RandomTables.rows(60, 33).stream()
                .map(row -> new VisitRow(row.terms().doneBy("P1"), row.minutes(), row.ending(), 1))
                .toList();
        check(one);
        List<VisitRow> two = new ArrayList<>(one);
        two.add(RandomTables.asked().doneBy("P2").took(20, Ending.COMPLETED));
        check(two);
    }

    @Test
    void answersWhereAllVisitsWereStoppedEarly() {
        check(RandomTables.rows(60, 34).stream()
                .map(row -> new VisitRow(row.terms(), row.minutes(), Ending.STOPPED_FOR_COMFORT, 1))
                .toList());
    }

    @Test
    void answersOnIdenticalRowsAndConstantTimes() {
        check(Collections.nCopies(100, RandomTables.asked().took(15, Ending.COMPLETED)));
        check(RandomTables.rows(100, 35).stream()
                .map(row -> new VisitRow(row.terms(), 15, Ending.COMPLETED, 1))
                .toList());
    }

    @Test
    void answersOnTheShortestAndLongestMinutes() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 60; i++) {
            rows.add(RandomTables.rows(1, 100 + i).get(0).terms().took(i % 2 == 0 ? 1 : 180, Ending.COMPLETED));
        }
        check(rows);
    }

    @Test
    void answersOnATableWithoutParts() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 50; i++) {
            rows.add(VisitTerms.of(List.of(Term.level("kind", i % 2 == 0 ? "a" : "b")), List.of(), null)
                    .took(30 + i % 9, Ending.COMPLETED));
        }
        FittedModel model = OncePlusParts.with(Priors.weak()).fit(rows);
        MinutesDistribution time = model.predict(VisitTerms.of(List.of(Term.level("kind", "a")), List.of(), null))
                .completion();
        assertThat(time.quantile(0.5)).isBetween(28.0, 40.0);
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, 0, -3, Double.POSITIVE_INFINITY})
    void refusesMinutesThatAreNone(double minutes) {
        assertThatThrownBy(() -> RandomTables.asked().took(minutes, Ending.COMPLETED))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("minutes is " + minutes)
                .hasMessageContaining("day 0");
    }

    private static void check(List<VisitRow> rows) {
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(rows);
        for (VisitTerms visit :
                List.of(RandomTables.asked(), RandomTables.asked().doneBy("nobody seen"))) {
            Prediction prediction = model.predict(visit);
            MinutesDistribution time = prediction.completion();
            assertThat(time.quantile(0.5)).isBetween(0.5, 300.0);
            assertThat(time.quantile(0.9)).isGreaterThan(time.quantile(0.5)).isFinite();
            assertThat(time.mean()).isFinite().isPositive();
            assertThat(time.standardDeviation()).isFinite().isPositive();
            assertThat(prediction.inRoom().quantile(0.9)).isLessThanOrEqualTo(time.quantile(0.9));
            double sum = prediction.why().stream()
                    .mapToDouble(Prediction.Item::minutes)
                    .sum();
            assertThat(sum).isCloseTo(time.quantile(0.5), within(1e-9));
            assertThat(prediction.ask())
                    .allSatisfy(question ->
                            assertThat(question.savesMinutes()).isFinite().isNotNegative());
        }
        assertThat(model.visits()).isEqualTo(rows.size());
    }

    private static MinutesDistribution completion(Priors priors, List<VisitRow> rows) {
        return OncePlusParts.with(priors)
                .fit(rows)
                .predict(RandomTables.asked())
                .completion();
    }

    private static List<VisitRow> nobody(List<VisitRow> rows) {
        return rows.stream()
                .map(row -> {
                    VisitTerms of = row.terms();
                    return new VisitRow(
                            new VisitTerms(of.once(), of.parts(), of.group(), null, null, of.day(), of.lateness()),
                            row.minutes(),
                            row.ending(),
                            1);
                })
                .toList();
    }

    private static Fit fit(List<VisitRow> rows) {
        PastVisits visits = PastVisits.of(rows, Vocabulary.of(Priors.earCare()));
        Fit fit = new Fit(new Design(visits, Priors.earCare()), Fit.Criterion.EVIDENCE);
        ReportTables.Tally tally = new ReportTables.Tally(visits.vocabulary, Priors.earCare());
        tally.count(visits, 0, visits.count, visits.weight);
        return fit.on(visits.count, visits.weight, tally.tables()).run(3000, 1e-11);
    }

    private static void assertSame(Fit one, Fit other, double enough) {
        for (int j = 0; j < one.beta.length; j++) {
            assertThat(other.beta[j]).isCloseTo(one.beta[j], within(enough));
        }
        assertThat(other.sizes.group).isCloseTo(one.sizes.group, within(enough));
        assertThat(other.sizes.noise[2]).isCloseTo(one.sizes.noise[2], within(enough));
    }

    private static VisitTerms renamed(VisitTerms visit, UnaryOperator<String> to) {
        List<Part> parts = visit.parts().stream()
                .map(part -> new Part(
                        part.name(),
                        part.kind(),
                        List.of(),
                        part.terms().stream()
                                .map(term -> (term instanceof Term.Finding finding
                                        ? Term.found(
                                                term.factor() + "x",
                                                to.apply(finding.reported()),
                                                to.apply(finding.found()))
                                        : term))
                                .toList()))
                .toList();
        return new VisitTerms(
                visit.once(), parts, visit.group(), visit.person(), visit.source(), visit.day(), visit.lateness());
    }
}
