package org.earslot.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** One of the demo's CSV files, read back. */
record DemoTable(List<String> columns, List<Row> rows) {

    /** A line by column name; empty text is "not known". */
    record Row(CSVRecord cells) {

        String text(String column) {
            return cells.get(column);
        }

        boolean has(String column) {
            return !text(column).isEmpty();
        }

        int number(String column) {
            return Integer.parseInt(text(column));
        }

        /** The words of a cell, joined there by semicolons. */
        List<String> words(String column) {
            return has(column) ? Arrays.asList(text(column).split(";")) : List.of();
        }

        /** Whether the patient was seen, late or in time. */
        boolean seen() {
            return text("attendance").startsWith("attended");
        }

        LocalDate date() {
            return LocalDate.parse(text("date"));
        }

        /** Minutes from midnight. */
        int minute(String column) {
            return LocalTime.parse(text(column)).toSecondOfDay() / 60;
        }
    }

    static DemoTable read(Path file) throws IOException {
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get();
        try (CSVParser parser = CSVParser.parse(Files.readString(file), format)) {
            return new DemoTable(
                    parser.getHeaderNames(), parser.stream().map(Row::new).toList());
        }
    }
}
