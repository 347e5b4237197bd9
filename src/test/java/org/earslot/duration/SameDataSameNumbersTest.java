package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.past.RowOrder;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The same visits give the same numbers to the last bit, whatever their order and whatever anybody is called. */
class SameDataSameNumbersTest {

    private static final double[] PROBABILITIES = {0.05, 0.5, 0.8, 0.99};

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void of_a_random_table(long seed) {
        assertSame(RandomTables.rows(600, seed), Priors.earCare(), seed);
        assertSame(RandomTables.rows(600, seed), Priors.weak(), seed);
    }

    @Test
    void of_an_invented_clinic() {
        assertSame(InventedTable.rows(InventedClinic.of(3, 5, 3_000).timedVisits()), Priors.earCare(), 7);
    }

    @Test
    void of_a_table_read_in_halves() {
        assertSame(BenchTable.full(20_500, 5), Priors.earCare(), 8);
    }

    /** Few days, few terms, whole minutes: most visits say what another one says. */
    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13})
    void where_most_visits_are_alike_but_for_who_did_them(long seed) {
        Random random = new Random(seed);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 800; i++) {
            rows.add(new VisitTerms(
                            List.of(Term.number("age", random.nextInt(3) / 7.0)),
                            List.of(Part.planned("one", "work", Term.found("size", null, "big"))),
                            "P" + random.nextInt(4),
                            "K" + random.nextInt(250),
                            random.nextBoolean() ? null : "R" + random.nextInt(3),
                            random.nextInt(20),
                            random.nextInt(3))
                    .took(10 + random.nextInt(4), random.nextInt(9) == 0 ? Ending.STOPPED_FOR_TIME : Ending.COMPLETED));
        }
        assertSame(rows, Priors.weak(), seed);
    }

    private static void assertSame(List<VisitRow> rows, Priors priors, long seed) {
        Renamed renamed = new Renamed();
        List<VisitRow> others = new ArrayList<>(rows.stream()
                .map(row -> new VisitRow(renamed.visit(row.terms()), row.minutes(), row.ending(), row.weight()))
                .toList());
        Collections.shuffle(others, new Random(seed));
        FittedModel one = OncePlusParts.with(priors).fit(rows);
        FittedModel other = OncePlusParts.with(priors).fit(others);
        int step = Math.max(1, rows.size() / 100);
        for (int i = 0; i < rows.size(); i += step) {
            VisitTerms visit = rows.get(i).terms();
            Prediction here = one.predict(visit);
            Prediction there = other.predict(renamed.visit(visit));
            for (double probability : PROBABILITIES) {
                assertThat(there.completion().quantile(probability))
                        .isEqualTo(here.completion().quantile(probability));
                assertThat(there.inRoom().quantile(probability))
                        .isEqualTo(here.inRoom().quantile(probability));
            }
            assertThat(there.sharedSdLog()).isEqualTo(here.sharedSdLog());
            assertThat(there.why().stream().map(Prediction.Item::high))
                    .isEqualTo(here.why().stream().map(Prediction.Item::high).toList());
        }
        List<VisitRow> inOrder = RowOrder.inOrder(rows, priors);
        List<VisitRow> othersInOrder = RowOrder.inOrder(others, priors);
        assertThat(inOrder).containsExactlyInAnyOrderElementsOf(rows);
        for (int i = 0; i < rows.size(); i++) {
            VisitRow row = inOrder.get(i);
            assertThat(othersInOrder.get(i).minutes()).isEqualTo(row.minutes());
            assertThat(othersInOrder.get(i).terms()).isEqualTo(renamed.visit(row.terms()));
        }
    }

    /** Random names for groups, persons and sources. */
    private static final class Renamed {

        private final Map<String, String> names = new HashMap<>();

        VisitTerms visit(VisitTerms visit) {
            return new VisitTerms(
                    visit.once(),
                    visit.parts(),
                    name("group", visit.group()),
                    name("person", visit.person()),
                    name("source", visit.source()),
                    visit.day(),
                    visit.lateness());
        }

        private @Nullable String name(String of, @Nullable String name) {
            return name == null
                    ? null
                    : names.computeIfAbsent(of + name, any -> UUID.randomUUID().toString());
        }
    }
}
