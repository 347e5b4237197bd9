package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.junit.jupiter.api.Test;

/** The columns of bookings in one list say what the lists before them said. */
class BookingColumnBesideTest {

    private static final List<String> WRONG = List.of(
            "",
            "soon",
            "both",
            "microsuction",
            "2026-02-31",
            "1960-03-29",
            "23:50",
            "9:00",
            "09:00",
            "-1",
            "30",
            "200",
            "tinnitus;gout",
            "wax",
            "booked",
            "pending",
            "x".repeat(201),
            "'=1",
            " right ");

    @Test
    void bookings_are_read_and_written_the_same_whole_and_spoilt() throws Exception {
        assertThat(BookingColumn.headings()).isEqualTo(BookingLineBefore.COLUMNS);
        assertThat(BookingColumn.requiredHeadings()).containsExactlyInAnyOrderElementsOf(BookingLineBefore.REQUIRED);
        List<List<String>> rows = new ArrayList<>();
        try (InputStream in = Files.newInputStream(Path.of("seed-demo/bookings.csv"))) {
            CsvReader reader = new CsvReader(in);
            assertThat(reader.header().cells()).isEqualTo(BookingLineBefore.COLUMNS);
            for (CsvRow row = reader.next(); row != null; row = reader.next()) {
                rows.add(((CsvRow.Whole) row).cells());
            }
        }
        assertThat(rows).hasSizeGreaterThan(200);
        Random random = new Random(17);
        int faults = 0;
        for (List<String> row : rows) {
            assertThat(same(row)).isZero();
            for (int times = 0; times < 20; times++) {
                List<String> spoilt = new ArrayList<>(row);
                for (int i = 0; i <= random.nextInt(6); i++) {
                    spoilt.set(random.nextInt(spoilt.size()), WRONG.get(random.nextInt(WRONG.size())));
                }
                faults += same(spoilt);
            }
        }
        assertThat(faults).isGreaterThan(2000);
    }

    private static int same(List<String> row) {
        Cells before = cells(row);
        Cells now = cells(row);
        assertThat(BookingLine.read(now).map(BookingColumn::cells))
                .isEqualTo(BookingLineBefore.read(before).map(BookingLineBefore::cells));
        assertThat(now.faults()).isEqualTo(before.faults());
        return now.faults().size();
    }

    private static Cells cells(List<String> row) {
        Map<String, String> named = new HashMap<>();
        for (int i = 0; i < row.size(); i++) {
            named.put(BookingLineBefore.COLUMNS.get(i), row.get(i));
        }
        return new Cells(2, "", column -> named.getOrDefault(column, ""), column -> column);
    }
}
