package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.earslot.exchange.csv.Cells;
import org.earslot.page.SpreadsheetCell;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class VisitColumnTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");
    private static final List<String> HEADINGS = VisitColumn.headings();
    private static final List<VisitLine> LINES = lines();

    private static List<VisitLine> lines() {
        AnyLines any = new AnyLines(23);
        List<VisitLine> lines = new ArrayList<>();
        for (int i = 0; i < 1500; i++) {
            lines.add(any.line("V" + i));
        }
        return lines;
    }

    @Test
    void a_line_read_from_its_cells_is_the_same() {
        for (VisitLine line : LINES) {
            Cells cells = cells(VisitColumn.cells(line));
            assertThat(VisitLine.read(cells, LONDON)).contains(line);
        }
    }

    /** A cell put into another line comes back from that line, and nothing else of it changes. */
    @ParameterizedTest
    @EnumSource
    void a_column_carries_one_part_of_a_line_and_no_other(VisitColumn column) {
        Random random = new Random(29);
        Set<String> carried = new HashSet<>();
        for (VisitLine line : LINES) {
            List<String> changed = new ArrayList<>(VisitColumn.cells(line));
            VisitLine other = LINES.get(random.nextInt(LINES.size()));
            changed.set(column.ordinal(), column.cell(other));
            Optional<VisitLine> read = VisitLine.read(cells(changed), LONDON);
            if (read.isPresent()) {
                assertThat(VisitColumn.cells(read.get())).isEqualTo(changed);
                assertThat(column.value(read.get())).isEqualTo(column.value(other));
                carried.add(column.cell(other));
            }
        }
        assertThat(carried).hasSizeGreaterThan(1);
    }

    private static Cells cells(List<String> row) {
        return new Cells(
                2, "", heading -> SpreadsheetCell.guarded(row.get(HEADINGS.indexOf(heading))), heading -> heading);
    }
}
