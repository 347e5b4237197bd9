package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.visit.VisitLine;
import org.junit.jupiter.api.Test;

/** The columns in one list say what the lists before them said. */
class VisitColumnBesideTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");
    private static final List<String> WRONG = List.of(
            "",
            "soon",
            "both",
            "microsuction",
            "2026-02-31",
            "2026-03-29",
            "01:30",
            "9:00",
            "23:59",
            "-1",
            "999999999999",
            "tinnitus;gout",
            "irrigation;irrigation",
            "yes",
            "not_known",
            "x".repeat(201),
            "'=1",
            " right ");

    @Test
    void headings_are_the_same() {
        assertThat(VisitColumn.headings()).isEqualTo(VisitLine.COLUMNS);
        assertThat(VisitColumn.requiredHeadings()).isEqualTo(VisitLine.REQUIRED);
    }

    @Test
    void lines_drawn_at_random_are_written_the_same() {
        AnyLines any = new AnyLines(11);
        for (int i = 0; i < 3000; i++) {
            VisitLine line = any.line("V" + i);
            assertThat(VisitColumn.cells(line)).isEqualTo(line.cells());
        }
    }

    @Test
    void lines_of_the_files_are_read_the_same_whole_and_spoilt() throws Exception {
        List<List<String>> rows = new ArrayList<>();
        try (InputStream log = VisitLogTest.class.getResourceAsStream("/visit-log.csv")) {
            rows.addAll(rows(log));
        }
        try (InputStream log = Files.newInputStream(Path.of("seed-demo/visit-log.csv"))) {
            rows.addAll(rows(log));
        }
        AnyLines any = new AnyLines(12);
        for (int i = 0; i < 3000; i++) {
            rows.add(any.line("V" + i).cells());
        }
        assertThat(rows).hasSizeGreaterThan(8000);
        Random random = new Random(13);
        int faults = 0;
        for (List<String> row : rows) {
            same(row);
            List<String> spoilt = new ArrayList<>(row);
            for (int i = 0; i <= random.nextInt(6); i++) {
                spoilt.set(random.nextInt(spoilt.size()), WRONG.get(random.nextInt(WRONG.size())));
            }
            faults += same(spoilt);
        }
        assertThat(faults).isGreaterThan(8000);
    }

    private static int same(List<String> row) {
        Cells before = cells(row);
        Cells now = cells(row);
        assertThat(VisitCells.read(now, LONDON)).isEqualTo(VisitCellsBefore.read(before, LONDON));
        assertThat(now.faults()).isEqualTo(before.faults());
        return now.faults().size();
    }

    private static Cells cells(List<String> row) {
        Map<String, String> named = new HashMap<>();
        for (int i = 0; i < row.size(); i++) {
            named.put(VisitLine.COLUMNS.get(i), row.get(i));
        }
        return new Cells(2, "", column -> named.getOrDefault(column, ""), column -> column);
    }

    private static List<List<String>> rows(InputStream in) throws Exception {
        List<List<String>> rows = new ArrayList<>();
        CsvReader reader = new CsvReader(in);
        List<String> header = reader.header().cells();
        assertThat(VisitLine.COLUMNS).containsAll(header);
        for (CsvRow row = reader.next(); row != null; row = reader.next()) {
            List<String> cells = ((CsvRow.Whole) row).cells();
            rows.add(VisitLine.COLUMNS.stream()
                    .map(column -> header.contains(column) ? cells.get(header.indexOf(column)) : "")
                    .toList());
        }
        return rows;
    }
}
