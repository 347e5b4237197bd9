package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.FieldError;
import org.junit.jupiter.api.Test;

class BookingColumnTest {

    private static final List<String> HEADINGS = BookingColumn.headings();
    private static final String TOO_LONG = "Quillfeather".repeat(20);

    @Test
    void bookings_of_the_demo_are_written_as_they_were_read() throws Exception {
        int lines = 0;
        try (InputStream in = Files.newInputStream(Path.of("seed-demo/bookings.csv"))) {
            CsvReader reader = new CsvReader(in);
            assertThat(reader.header().cells()).isEqualTo(HEADINGS);
            for (CsvRow row = reader.next(); row != null; row = reader.next()) {
                List<String> cells = ((CsvRow.Whole) row).cells();
                assertThat(BookingLine.read(cells(cells)).map(BookingColumn::cells))
                        .contains(cells);
                lines++;
            }
        }
        assertThat(lines).isGreaterThan(200);
    }

    @Test
    void a_fault_names_the_column_of_a_patients_details_but_does_not_repeat_them() {
        Cells cells = cells(line(
                "family_name",
                TOO_LONG,
                "given_name",
                TOO_LONG,
                "date_of_birth",
                "31/12/1949",
                "contact",
                TOO_LONG,
                "ears",
                "all"));
        assertThat(BookingLine.read(cells)).isEmpty();
        assertThat(cells.faults())
                .extracting(FieldError::column, FieldError::value)
                .containsExactly(
                        tuple("ears", "all"),
                        tuple("family_name", ""),
                        tuple("given_name", ""),
                        tuple("date_of_birth", ""),
                        tuple("contact", ""));
        assertThat(cells.faults())
                .extracting(fault -> fault.reason() + fault.remedy())
                .noneMatch(text -> text.contains("1949") || text.contains("Quill"));
    }

    private static List<String> line(String... changes) {
        List<String> line = new ArrayList<>(HEADINGS.stream().map(heading -> "").toList());
        String[] sound = {
            "booking_id", "B1", "patient_ref", "K1", "date", "2026-03-03", "start", "09:00", "slot_minutes", "30",
            "practitioner", "P1", "room", "R1", "method_planned", "microsuction", "ears", "both", "status", "booked"
        };
        for (String[] cells : List.of(sound, changes)) {
            for (int i = 0; i < cells.length; i += 2) {
                line.set(HEADINGS.indexOf(cells[i]), cells[i + 1]);
            }
        }
        return line;
    }

    private static Cells cells(List<String> row) {
        return new Cells(2, "", heading -> row.get(HEADINGS.indexOf(heading)), heading -> heading);
    }
}
