package org.earslot.duration.past;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.junit.jupiter.api.Test;

class ReadVisitsTest {

    @Test
    void reads_a_long_table_in_halves_as_in_one() {
        List<VisitRow> rows = rows(ReadVisits.MANY + 1);
        Iterable<VisitRow> oneByOne = rows::iterator;
        PastVisits halves = PastVisits.of(rows, Vocabulary.of(Priors.earCare()));
        PastVisits one = PastVisits.of(oneByOne, Vocabulary.of(Priors.earCare()));
        assertThat(halves.count).isEqualTo(one.count).isEqualTo(rows.size());
        assertThat(halves.segments).isEqualTo(one.segments);
        assertThat(halves.terms).isEqualTo(one.terms);
        assertThat(halves.vocabulary.factors.all()).isEqualTo(one.vocabulary.factors.all());
        assertThat(halves.vocabulary.persons.all()).isEqualTo(one.vocabulary.persons.all());
        assertThat(halves.order).isEqualTo(one.order);
        assertThat(first(halves.group, halves.count)).isEqualTo(first(one.group, one.count));
        assertThat(first(halves.person, halves.count)).isEqualTo(first(one.person, one.count));
        assertThat(first(halves.source, halves.count)).isEqualTo(first(one.source, one.count));
        assertThat(first(halves.firstSegment, halves.count + 1)).isEqualTo(first(one.firstSegment, one.count + 1));
        assertThat(first(halves.kind, halves.segments)).isEqualTo(first(one.kind, one.segments));
        assertThat(first(halves.name, halves.segments)).isEqualTo(first(one.name, one.segments));
        assertThat(first(halves.firstTerm, halves.segments + 1)).isEqualTo(first(one.firstTerm, one.segments + 1));
        assertThat(Arrays.copyOf(halves.term, halves.terms)).isEqualTo(Arrays.copyOf(one.term, one.terms));
        assertThat(Arrays.copyOf(halves.log, halves.count)).isEqualTo(Arrays.copyOf(one.log, one.count));
        assertThat(Arrays.copyOf(halves.ending, halves.count)).isEqualTo(Arrays.copyOf(one.ending, one.count));
        for (int t = 0; t < one.terms; t++) {
            if (PastVisits.isNumber(one.term[t])) {
                assertThat(halves.numberOf(halves.term[t])).isEqualTo(one.numberOf(one.term[t]));
            } else {
                assertThat(halves.recollection(t)).isEqualTo(one.recollection(t));
            }
        }
        assertThat(halves.numberSums()).isDeepEqualTo(one.numberSums());
    }

    private static int[] first(int[] of, int count) {
        return Arrays.copyOf(of, count);
    }

    /** Names that only one half has, numbers, unknown findings, persons who come again. */
    private static List<VisitRow> rows(int count) {
        Random random = new Random(17);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            String half = i < count / 2 ? "early" : "late";
            List<Part> parts = new ArrayList<>();
            for (int part = 0; part <= random.nextInt(2); part++) {
                parts.add(Part.planned(
                        "part " + part,
                        random.nextBoolean() ? "irrigation" : "kind " + half,
                        Term.found("wax", random.nextBoolean() ? "hard" : null, random.nextInt(9) == 0 ? null : half),
                        Term.level("only " + half, "yes"),
                        Term.number("age", random.nextInt(90))));
            }
            rows.add(new VisitTerms(
                            List.of(Term.level("first_visit", "no")),
                            parts,
                            "P" + random.nextInt(5) + half,
                            random.nextInt(3) == 0 ? null : "K" + random.nextInt(count / 3),
                            random.nextBoolean() ? null : "F" + half,
                            random.nextInt(count / 20),
                            random.nextInt(5) == 0 ? 7 : 0)
                    .took(1 + random.nextInt(40), Ending.COMPLETED));
        }
        return rows;
    }
}
