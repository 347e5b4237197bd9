package org.earslot.page;

/** A cell of a CSV file that no spreadsheet takes for a formula. */
public final class SpreadsheetCell {

    private static final String STARTS_A_FORMULA = "=+-@\t\r\n";

    private SpreadsheetCell() {}

    /** {@code text} itself, or with an apostrophe before it where a spreadsheet would calculate it. */
    public static String safe(String text) {
        return !text.isEmpty() && STARTS_A_FORMULA.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }
}
