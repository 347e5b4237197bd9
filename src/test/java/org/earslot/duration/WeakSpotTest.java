package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.earslot.duration.WeakSpot.Sort;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.junit.jupiter.api.Test;

/** Degenerate tables: each gives a fit (see OncePlusPartsTest), and each says what is weak. */
class WeakSpotTest {

    @Test
    void namesNothingInAnOrdinaryTable() {
        assertThat(of(RandomTables.rows(600, 1))).isEmpty();
    }

    @Test
    void namesATableOfNoVisitAndOfOne() {
        assertThat(of(List.of())).containsExactly(new WeakSpot(Sort.NO_VISITS, "", 0));
        assertThat(of(RandomTables.rows(1, 2)))
                .extracting(WeakSpot::sort)
                .contains(Sort.FEW_VISITS, Sort.FEW_OF_KIND, Sort.ONE_GROUP, Sort.FEW_OF_GROUP)
                .doesNotContain(Sort.NO_VISITS);
    }

    @Test
    void namesTheKindsOfWorkThatWereHardlySeen() {
        List<VisitRow> one = RandomTables.rows(900, 3).stream()
                .filter(row -> row.terms().parts().get(0).kind().equals("irrigation"))
                .toList();
        assertThat(of(one))
                .containsExactly(
                        new WeakSpot(Sort.FEW_OF_KIND, "manual_removal", 0),
                        new WeakSpot(Sort.FEW_OF_KIND, "microsuction", 0));
    }

    @Test
    void namesThatOnceAndPartsCannotBeToldApart() {
        List<VisitRow> both = RandomTables.rows(900, 4).stream()
                .filter(row -> row.terms().parts().size() == 2)
                .toList();
        assertThat(of(both)).containsExactly(new WeakSpot(Sort.PARTS_NEVER_VARY, "", both.size()));
    }

    @Test
    void namesOnePractitionerAndOneVisitOfAnother() {
        List<VisitRow> one = new ArrayList<>(RandomTables.rows(300, 5).stream()
                .map(row -> new VisitRow(row.terms().doneBy("P1"), row.minutes(), row.ending(), 1))
                .toList());
        assertThat(of(one)).containsExactly(new WeakSpot(Sort.ONE_GROUP, "", 300));
        one.add(RandomTables.asked().doneBy("P2").took(20, Ending.COMPLETED));
        assertThat(of(one)).containsExactly(new WeakSpot(Sort.FEW_OF_GROUP, "P2", 1));
    }

    @Test
    void namesThatMostWereStoppedEarly() {
        List<VisitRow> cut = RandomTables.rows(300, 6).stream()
                .map(row -> new VisitRow(row.terms(), row.minutes(), Ending.STOPPED_FOR_TIME, 1))
                .toList();
        assertThat(of(cut)).containsExactly(new WeakSpot(Sort.MOSTLY_STOPPED_EARLY, "", 300));
    }

    @Test
    void namesMinutesThatHardlyVary() {
        List<VisitRow> same = Collections.nCopies(200, RandomTables.asked().took(15, Ending.COMPLETED));
        assertThat(of(same)).extracting(WeakSpot::sort).contains(Sort.MINUTES_HARDLY_VARY, Sort.PARTS_NEVER_VARY);
        List<VisitRow> ends = new ArrayList<>();
        List<VisitRow> rows = RandomTables.rows(300, 7);
        for (int i = 0; i < rows.size(); i++) {
            ends.add(rows.get(i).terms().took(i % 2 == 0 ? 1 : 180, Ending.COMPLETED));
        }
        assertThat(of(ends)).containsExactly(new WeakSpot(Sort.MINUTES_HARDLY_VARY, "", 300));
    }

    @Test
    void namesNoKindsInATableWithoutParts() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 200; i++) {
            rows.add(VisitTerms.of(List.of(), List.of(), "P" + i % 2).took(10 + i % 9, Ending.COMPLETED));
        }
        assertThat(WeakSpot.of(rows, Priors.weak())).isEmpty();
    }

    private static List<WeakSpot> of(List<VisitRow> rows) {
        return WeakSpot.of(rows, Priors.earCare());
    }
}
