package org.earslot.exchange.csv;

import java.util.List;
import java.util.regex.Pattern;

/** Cuts a row that may be broken into cells as well as can be, so that it can be shown and corrected. */
public final class RawCells {

    private RawCells() {}

    /** The cells; where the quotation marks do not work out, they are taken for themselves. */
    public static List<String> of(String raw, char separator) {
        RowScan scan = new RowScan(separator).take(new FileLine(1, raw, "", null));
        return scan.isOpen() || scan.isBroken()
                ? List.of(raw.split(Pattern.quote(String.valueOf(separator)), -1))
                : List.copyOf(scan.cells());
    }
}
