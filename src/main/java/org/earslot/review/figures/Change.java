package org.earslot.review.figures;

import com.fasterxml.jackson.annotation.JsonValue;
import org.jspecify.annotations.Nullable;

/**
 * A difference with the range it lies in 19 times out of 20.
 *
 * @param by the difference; null where one side is not known, as the ends of the range are then
 */
public record Change(
        Verdict verdict,
        @Nullable Double by,
        @Nullable Double low,
        @Nullable Double high) {

    /** Nothing to compare with. */
    public static final Change NOT_KNOWN = new Change(Verdict.NOT_KNOWN, null, null, null);

    /** What may be said of a difference. */
    public enum Verdict {
        MORE("more"),
        LESS("less"),
        NOT_CLEAR("not_clear"),
        NOT_KNOWN("not_known");

        private final String code;

        Verdict(String code) {
            this.code = code;
        }

        /** Names the verdict in message files. */
        @JsonValue
        public String code() {
            return code;
        }
    }

    static Change of(double by, double low, double high) {
        Verdict verdict = low > 0 ? Verdict.MORE : high < 0 ? Verdict.LESS : Verdict.NOT_CLEAR;
        return new Change(verdict, by, low, high);
    }
}
