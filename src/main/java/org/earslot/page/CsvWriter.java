package org.earslot.page;

import java.io.IOException;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.jspecify.annotations.Nullable;

/** Writes rows of CSV as RFC 4180 has them, for every file that leaves the program: texts are guarded, numbers are not. */
public final class CsvWriter {

    private final CSVPrinter printer;

    public CsvWriter(Appendable out) throws IOException {
        printer = new CSVPrinter(out, CSVFormat.RFC4180);
    }

    /** Writes one row; null is an empty cell. */
    public void write(List<? extends @Nullable Object> cells) throws IOException {
        printer.printRecord(cells.stream().map(CsvWriter::cell).toList());
    }

    private static Object cell(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        return value instanceof Number ? value : SpreadsheetCell.guarded(value.toString());
    }
}
