package org.earslot.review.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.earslot.page.CsvWriter;
import org.jspecify.annotations.Nullable;

/** A table as a text of CSV. */
final class CsvText {

    private CsvText() {}

    static String of(List<String> headings, List<List<@Nullable Object>> rows) {
        StringBuilder text = new StringBuilder();
        try {
            CsvWriter writer = new CsvWriter(text);
            writer.write(headings);
            for (List<@Nullable Object> row : rows) {
                writer.write(row);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }
}
