package org.earslot.exchange.csv;

import java.util.List;

/** A row as it stands in the file. A quoted cell may hold line ends, so a row may be several lines. */
public sealed interface CsvRow {

    /** The number of its first line; the header's is 1. */
    long line();

    /** Its text, without the line end after it. */
    String raw();

    /** A row in its cells. */
    record Whole(long line, String raw, List<String> cells) implements CsvRow {
        public Whole {
            cells = List.copyOf(cells);
        }
    }

    /** A line that is no row. */
    record Broken(long line, String raw, MalformedRow breakage) implements CsvRow {}
}
