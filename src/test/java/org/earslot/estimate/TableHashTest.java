package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.junit.jupiter.api.Test;

class TableHashTest {

    @Test
    void is_the_same_for_the_same_table_read_twice() {
        assertThat(TableHash.of(InventedTable.rows(InventedClinic.of(5, 3, 50).timedVisits()), Map.of()))
                .isEqualTo(TableHash.of(
                        InventedTable.rows(InventedClinic.of(5, 3, 50).timedVisits()), Map.of()));
    }

    @Test
    void differs_whatever_differs() {
        VisitRow row = row("P", "K", "F", 3, 2.5, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"));
        List<List<VisitRow>> tables = new ArrayList<>(List.of(
                List.of(),
                List.of(row),
                List.of(row, row),
                List.of(row("Q", "K", "F", 3, 2.5, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row(null, "K", "F", 3, 2.5, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row("P", "L", "F", 3, 2.5, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row("P", "K", null, 3, 2.5, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row("P", "K", "F", 4, 2.5, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row("P", "K", "F", 3, 2, 12.25, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row("P", "K", "F", 3, 2.5, 12.5, Ending.COMPLETED, Term.found("wax", "soft", "hard"))),
                List.of(row("P", "K", "F", 3, 2.5, 12.25, Ending.STOPPED_FOR_TIME, Term.found("wax", "soft", "hard"))),
                List.of(new VisitRow(row.terms(), 12.25, Ending.COMPLETED, 2))));
        for (Term term : List.of(
                Term.found("wax", "hard", "soft"),
                Term.found("wax", "soft", null),
                Term.unknown("wax"),
                Term.unknown("canal"),
                Term.level("wax", "soft"),
                Term.number("wax", 1),
                Term.number("wax", 2),
                new Term.Mixture("wax", Map.of("soft", 0.25, "hard", 0.75)),
                new Term.Mixture("wax", Map.of("soft", 0.75, "hard", 0.25)))) {
            tables.add(List.of(row("P", "K", "F", 3, 2.5, 12.25, Ending.COMPLETED, term)));
        }
        Set<String> hashes = new HashSet<>();
        tables.forEach(table -> hashes.add(HexFormat.of().formatHex(TableHash.of(table, Map.of()))));
        assertThat(hashes).hasSameSizeAs(tables);
    }

    @Test
    void knows_groups_by_their_names() {
        VisitRow one = row("id 1", "K", "F", 3, 2.5, 12.25, Ending.COMPLETED, Term.unknown("wax"));
        VisitRow other = row("id 2", "K", "F", 3, 2.5, 12.25, Ending.COMPLETED, Term.unknown("wax"));
        assertThat(TableHash.of(List.of(one), Map.of("id 1", "Ann")))
                .isEqualTo(TableHash.of(List.of(other), Map.of("id 2", "Ann")))
                .isNotEqualTo(TableHash.of(List.of(other), Map.of("id 2", "Ben")));
    }

    private static VisitRow row(
            String group,
            String person,
            String source,
            long day,
            double late,
            double minutes,
            Ending ending,
            Term term) {
        Part part = new Part("right", "microsuction", List.of("microsuction"), List.of(term));
        return new VisitTerms(List.of(Term.level("first_visit", "no")), List.of(part), group, person, source, day, late)
                .took(minutes, ending);
    }
}
