package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.junit.jupiter.api.Test;

class TrainingTableCodecTest {

    @Test
    void come_back_as_the_same_table() {
        List<VisitRow> rows = InventedTable.rows(InventedClinic.of(5, 3, 800).timedVisits());
        assertThat(TrainingTableCodec.unpack(TrainingTableCodec.pack(rows).bytes())
                        .rows())
                .isEqualTo(rows);
    }

    @Test
    void hold_every_kind_of_term() {
        Part part = new Part(
                "right",
                "microsuction",
                List.of("microsuction", "manual_removal"),
                List.of(
                        new Term.Mixture("wax", Map.of("soft", 0.25, "hard", 0.75)),
                        Term.number("age", 61.5),
                        Term.unknown("canal"),
                        Term.found("depth", "outer_third", null)));
        VisitTerms terms =
                new VisitTerms(List.of(Term.level("first_visit", "no")), List.of(part, part), null, "K", null, -3, 2.5);
        List<VisitRow> rows = List.of(new VisitRow(terms, 12.25, Ending.STOPPED_FOR_TIME, 2));
        assertThat(TrainingTableCodec.unpack(TrainingTableCodec.pack(rows).bytes())
                        .rows())
                .isEqualTo(rows);
    }

    @Test
    void take_no_visits_too() {
        assertThat(TrainingTableCodec.unpack(TrainingTableCodec.pack(List.of()).bytes())
                        .rows())
                .isEmpty();
    }

    @Test
    void give_one_hash_for_one_table() {
        List<VisitRow> rows = InventedTable.rows(InventedClinic.of(5, 3, 50).timedVisits());
        assertThat(TrainingTableCodec.pack(rows).hash())
                .isEqualTo(TrainingTableCodec.pack(List.copyOf(rows)).hash())
                .isNotEqualTo(TrainingTableCodec.pack(rows.subList(1, 50)).hash());
    }

    @Test
    void need_few_bytes_a_visit() {
        List<VisitRow> rows = InventedTable.rows(InventedClinic.of(5, 3, 2_000).timedVisits());
        assertThat(TrainingTableCodec.pack(rows).bytes().length).isLessThan(60 * rows.size());
    }

    @Test
    void refuse_damaged_bytes() {
        byte[] bytes = TrainingTableCodec.pack(
                        InventedTable.rows(InventedClinic.of(5, 3, 50).timedVisits()))
                .bytes();
        bytes[bytes.length / 2] ^= 0x55;
        assertThatThrownBy(() -> TrainingTableCodec.unpack(bytes)).isInstanceOf(RuntimeException.class);
        assertThatThrownBy(() -> TrainingTableCodec.unpack(new byte[] {1, 2, 3}))
                .isInstanceOf(UncheckedIOException.class);
    }
}
