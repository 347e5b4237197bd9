package org.earslot.duration.table;

/**
 * A past visit with its minutes: a row of the table that a fit runs on.
 *
 * <p>Rows that share terms may share the {@link Term} and {@link Part} objects; a million rows then need little memory.
 *
 * @param terms what was known of it, before and after
 * @param minutes from called in to finished; finite, above 0
 * @param ending completed, or why it was stopped early (then {@code minutes} is a lower bound of the time to completion)
 * @param weight finite, above 0; weight 2 is the same as the row twice
 */
public record VisitRow(VisitTerms terms, double minutes, Ending ending, double weight) {

    public VisitRow {
        if (!(minutes > 0 && minutes < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "minutes is " + minutes + " on day " + terms.day() + "; give a finite number above 0");
        }
        Named.positive("weight", weight);
    }

    /** Whether the work was left unfinished. */
    public boolean stoppedEarly() {
        return ending.stoppedEarly();
    }
}
