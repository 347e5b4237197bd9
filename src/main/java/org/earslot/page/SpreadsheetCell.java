package org.earslot.page;

/**
 * Keeps a spreadsheet from taking a text for a formula: on the way out an apostrophe goes before a text that starts with
 * {@code =}, {@code +}, {@code -}, {@code @}, a tab or a line end (after any apostrophes it has itself), on the way in
 * one is taken off again. For every text, {@code bare(guarded(text))} is the text.
 */
public final class SpreadsheetCell {

    private static final String STARTS_A_FORMULA = "=+-@\t\r\n";

    private SpreadsheetCell() {}

    /** The text as it is written into a file. */
    public static String guarded(String text) {
        return startsFormula(text) ? "'" + text : text;
    }

    /** The text of a cell without its guard. */
    public static String bare(String cell) {
        return cell.startsWith("'") && startsFormula(cell) ? cell.substring(1) : cell;
    }

    private static boolean startsFormula(String text) {
        int at = 0;
        while (at < text.length() && text.charAt(at) == '\'') {
            at++;
        }
        return at < text.length() && STARTS_A_FORMULA.indexOf(text.charAt(at)) >= 0;
    }
}
