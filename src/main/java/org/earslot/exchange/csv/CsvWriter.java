package org.earslot.exchange.csv;

import java.io.IOException;
import java.util.List;
import org.earslot.page.SpreadsheetCell;

/** Writes rows as RFC 4180 has them: commas, CRLF, quotation marks where a cell needs them, formulas guarded. */
public final class CsvWriter {

    private final Appendable out;

    public CsvWriter(Appendable out) {
        this.out = out;
    }

    public void write(List<String> cells) throws IOException {
        for (int i = 0; i < cells.size(); i++) {
            if (i > 0) {
                out.append(',');
            }
            write(SpreadsheetCell.guarded(cells.get(i)));
        }
        out.append("\r\n");
    }

    private void write(String cell) throws IOException {
        boolean plain = cell.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
        if (plain) {
            out.append(cell);
        } else {
            out.append('"').append(cell.replace("\"", "\"\"")).append('"');
        }
    }
}
