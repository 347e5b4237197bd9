package org.earslot.review.web;

import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.jspecify.annotations.Nullable;

/** Rows as CSV (RFC 4180). */
final class CsvText {

    private CsvText() {}

    static String of(List<String> headings, List<List<@Nullable Object>> rows) {
        CSVFormat format = CSVFormat.RFC4180;
        StringBuilder text = new StringBuilder(format.format(headings.toArray())).append("\r\n");
        for (List<@Nullable Object> row : rows) {
            text.append(format.format(row.stream().map(CsvText::cell).toArray()))
                    .append("\r\n");
        }
        return text.toString();
    }

    /** A text that a spreadsheet would take for a formula is led by an apostrophe; numbers are left alone. */
    private static Object cell(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        boolean formula = value instanceof String text && !text.isEmpty() && "=+-@\t\r".indexOf(text.charAt(0)) >= 0;
        return formula ? "'" + value : value;
    }
}
