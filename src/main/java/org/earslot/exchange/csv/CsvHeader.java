package org.earslot.exchange.csv;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.page.SpreadsheetCell;
import org.jspecify.annotations.Nullable;

/** Where each column of a format stands in one file, in whatever order, and which columns are none of the format's. */
public final class CsvHeader implements FileForm.Headed {

    private final Map<String, Integer> places = new HashMap<>();
    private final List<String> unknown = new ArrayList<>();

    /**
     * @param named the cells of the header row
     * @param known the columns of the format
     * @param required those without which no line can go in
     */
    public CsvHeader(List<String> named, List<String> known, List<String> required) throws UnreadableFile {
        List<FieldError> faults = new ArrayList<>();
        for (int i = 0; i < named.size(); i++) {
            String name = SpreadsheetCell.bare(named.get(i)).strip();
            if (!known.contains(name)) {
                note(name);
            } else if (places.putIfAbsent(name, i) != null) {
                faults.add(new FieldError(name, "", "the column stands twice in the header", "keep one of the two"));
            }
        }
        for (String name : required) {
            if (!places.containsKey(name)) {
                faults.add(new FieldError(name, "", "the column is missing in the header", missing(named, name)));
            }
        }
        if (!faults.isEmpty()) {
            throw new UnreadableFile(faults);
        }
    }

    private void note(String name) {
        if (!name.isEmpty() && !RejectedColumns.NAMES.contains(name)) {
            unknown.add(name);
        }
    }

    private static String missing(List<String> named, String name) {
        return named.size() == 1 && (named.get(0).contains(";") || named.get(0).contains("\t"))
                ? "separate the cells by commas"
                : "add a column " + name + ", or map your own headings to the columns first";
    }

    /** The columns that are kept out, as the file heads them. */
    @Override
    public List<String> unknown() {
        return List.copyOf(unknown);
    }

    /** The cell of {@code column} in a row; empty where the file has no such column. */
    String cell(CsvRow.Whole row, String column) {
        @Nullable Integer place = places.get(column);
        return place == null ? "" : row.cells().get(place);
    }

    /** The cells of one row by the format's columns. */
    @Override
    public Cells cells(CsvRow.Whole row) {
        return new Cells(row.line(), row.raw(), column -> cell(row, column), column -> column);
    }
}
