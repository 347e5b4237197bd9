package org.earslot.exchange.csv;

import java.util.ArrayList;
import java.util.List;

/** Cuts the lines of one row into cells; a row ends where a line ends outside quotation marks. */
final class RowScan {

    private enum At {
        START,
        PLAIN,
        QUOTED,
        AFTER_QUOTE
    }

    private final char separator;
    private final List<String> cells = new ArrayList<>();
    private final StringBuilder cell = new StringBuilder();
    private At at = At.START;
    private boolean broken;

    RowScan(char separator) {
        this.separator = separator;
    }

    /** Takes one more line. A quotation mark within a cell that did not open with one stands for itself. */
    RowScan take(FileLine line) {
        String text = line.text();
        for (int i = 0; i < text.length(); i++) {
            take(text.charAt(i));
        }
        if (at == At.QUOTED) {
            cell.append(line.end());
        } else {
            endCell();
        }
        return this;
    }

    private void take(char c) {
        if (at == At.QUOTED) {
            if (c == '"') {
                at = At.AFTER_QUOTE;
            } else {
                cell.append(c);
            }
        } else if (c == separator) {
            endCell();
        } else if (c == '"' && at == At.START) {
            at = At.QUOTED;
        } else if (c == '"' && at == At.AFTER_QUOTE) {
            cell.append(c);
            at = At.QUOTED;
        } else {
            broken |= at == At.AFTER_QUOTE;
            cell.append(c);
            at = At.PLAIN;
        }
    }

    private void endCell() {
        cells.add(cell.toString());
        cell.setLength(0);
        at = At.START;
    }

    boolean isOpen() {
        return at == At.QUOTED;
    }

    boolean isBroken() {
        return broken;
    }

    List<String> cells() {
        return cells;
    }
}
