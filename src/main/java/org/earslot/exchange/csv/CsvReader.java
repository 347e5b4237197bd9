package org.earslot.exchange.csv;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Reads rows one by one and never holds more than one. A line that is no row is handed out as such, and reading goes on at
 * the very next line: an unclosed quotation mark does not swallow the lines after it.
 */
public final class CsvReader {

    /** A row of more lines than this is taken for an unclosed quotation mark. */
    static final int MOST_LINES = 500;

    private final FileLines lines;
    private final char separator;
    private int width = -1;

    /** Reads UTF-8 (a byte order mark is accepted) with commas. */
    public CsvReader(InputStream in) throws IOException, UnreadableFile {
        this(in, StandardCharsets.UTF_8, ',');
    }

    public CsvReader(InputStream in, Charset charset, char separator) throws IOException, UnreadableFile {
        this.lines = new FileLines(in, charset);
        this.separator = separator;
    }

    /** The first row; from then on every row must have as many cells, empty ones at the end apart. */
    public CsvRow.Whole header() throws IOException, UnreadableFile {
        CsvRow row = next();
        if (row == null) {
            throw new UnreadableFile("the file is empty", "send a file with a header row and a line for each visit");
        }
        if (row instanceof CsvRow.Broken broken) {
            FieldError fault = broken.breakage().fault();
            throw new UnreadableFile("the header row cannot be read: " + fault.reason(), fault.remedy());
        }
        CsvRow.Whole header = (CsvRow.Whole) row;
        List<String> named = withoutEmptyEnd(header.cells(), 0);
        width = named.size();
        return new CsvRow.Whole(header.line(), header.raw(), named);
    }

    /** The next row, or null after the last; empty lines are passed over. */
    public @Nullable CsvRow next() throws IOException {
        for (FileLine first = lines.next(); first != null; first = lines.next()) {
            CsvRow row = first.breakage() == null ? row(first) : broken(first, first.breakage());
            if (row instanceof CsvRow.Broken
                    || ((CsvRow.Whole) row).cells().stream().anyMatch(cell -> !cell.isBlank())) {
                return row;
            }
        }
        return null;
    }

    /** How much of the file has been read, for a display of progress. */
    public long bytesRead() {
        return lines.bytesRead();
    }

    private CsvRow row(FileLine first) throws IOException {
        RowScan scan = new RowScan(separator).take(first);
        List<FileLine> more = new ArrayList<>();
        int length = first.text().length();
        while (scan.isOpen() && !scan.isBroken()) {
            FileLine line = lines.next();
            if (line == null) {
                return firstAlone(first, more, MalformedRow.OPEN_QUOTE);
            }
            more.add(line);
            length += line.text().length();
            if (line.breakage() != null) {
                return firstAlone(first, more, line.breakage());
            }
            if (more.size() >= MOST_LINES || length > FileLines.LONGEST) {
                return firstAlone(first, more, MalformedRow.OPEN_QUOTE);
            }
            scan.take(line);
        }
        if (scan.isBroken()) {
            return firstAlone(first, more, more.isEmpty() ? MalformedRow.TEXT_AFTER_QUOTE : MalformedRow.OPEN_QUOTE);
        }
        return counted(first, more, scan.cells());
    }

    private CsvRow counted(FileLine first, List<FileLine> more, List<String> all) {
        List<String> cells = width < 0 ? all : withoutEmptyEnd(all, width);
        if (width < 0 || cells.size() == width || all.stream().allMatch(String::isBlank)) {
            return new CsvRow.Whole(first.number(), raw(first, more), cells);
        }
        if (more.stream().anyMatch(this::isRowByItself)) {
            return firstAlone(first, more, MalformedRow.OPEN_QUOTE);
        }
        return new CsvRow.Broken(first.number(), raw(first, more), MalformedRow.FIELD_COUNT);
    }

    /** Whether a line that a quoted cell has swallowed looks like a row of its own. */
    private boolean isRowByItself(FileLine line) {
        RowScan alone = new RowScan(separator).take(line);
        return width > 1
                && !alone.isOpen()
                && !alone.isBroken()
                && alone.cells().size() == width;
    }

    private CsvRow firstAlone(FileLine first, List<FileLine> more, MalformedRow why) {
        lines.giveBack(more);
        return broken(first, why);
    }

    private static CsvRow broken(FileLine line, MalformedRow why) {
        return new CsvRow.Broken(line.number(), line.text(), why);
    }

    private static String raw(FileLine first, List<FileLine> more) {
        if (more.isEmpty()) {
            return first.text();
        }
        List<FileLine> all = new ArrayList<>(List.of(first));
        all.addAll(more);
        String whole = all.stream().map(line -> line.text() + line.end()).collect(Collectors.joining());
        String end = all.get(all.size() - 1).end();
        return whole.substring(0, whole.length() - end.length());
    }

    private static List<String> withoutEmptyEnd(List<String> cells, int atLeast) {
        int size = cells.size();
        while (size > atLeast && cells.get(size - 1).isBlank()) {
            size--;
        }
        return cells.subList(0, size);
    }
}
