package org.earslot.estimate;

/**
 * How far a fit under way is.
 *
 * @param done of {@code total}, 0 of 0 where it cannot be counted
 */
public record FitProgress(Stage stage, long done, long total) {

    /** What is done one after the other. */
    public enum Stage {
        READING,
        FITTING,
        JUDGING,
        KEEPING;

        /** The message that names it. */
        public String key() {
            return "estimate.fit.stage." + name().toLowerCase(java.util.Locale.ROOT);
        }
    }
}
