package org.earslot.exchange.csv;

/**
 * One thing wrong with a line.
 *
 * @param column the column as the file heads it; empty where it is the line as a whole
 * @param value what stands there; empty where nothing does, or where it is a patient's own details
 * @param reason what is wrong with it
 * @param remedy what to do
 */
public record FieldError(String column, String value, String reason, String remedy) {

    private static final int LONGEST = 200;

    public FieldError {
        value = value.length() > LONGEST ? value.substring(0, LONGEST) + "…" : value;
    }
}
