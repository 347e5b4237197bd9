package org.earslot.exchange.csv;

/** Why a line is no row of the file; nothing else of the file is lost by it. */
public enum MalformedRow {
    OPEN_QUOTE(
            "a quotation mark opens a cell and nothing closes it",
            "close the cell with a quotation mark, and write a quotation mark inside it twice"),
    TEXT_AFTER_QUOTE(
            "text follows the quotation mark that closes a cell",
            "put the whole cell in quotation marks, and write a quotation mark inside it twice"),
    FIELD_COUNT("the number of cells is not that of the header", "give the line as many cells as the header has"),
    NUL("the line holds a character with the code 0", "take the character out, or write the file anew"),
    NOT_THE_ENCODING("the line is not written in the encoding of the file", "save the file as UTF-8"),
    TOO_LONG("the line is longer than 65,536 characters", "shorten its texts");

    private final String reason;
    private final String remedy;

    MalformedRow(String reason, String remedy) {
        this.reason = reason;
        this.remedy = remedy;
    }

    /** The breakage as a fault of the line as a whole, of no one column. */
    public FieldError fault() {
        return new FieldError("", "", reason, remedy);
    }
}
