package org.earslot.estimate;

import org.earslot.ear.Ear;
import org.jspecify.annotations.Nullable;

/**
 * Something not known whose answer would narrow the estimate.
 *
 * @param ear the ear it is about, null for the whole visit
 * @param factor what to ask about: {@code wax}, {@code canal}, {@code depth}, {@code softener}, ...
 * @param savesMinutes by how much the answer narrows the estimate on average, minutes, at least 0
 */
public record Question(@Nullable Ear ear, String factor, WhoCanAnswer whoCanAnswer, double savesMinutes) {

    /** The name programs know it by: {@code right.wax}. */
    public String finding() {
        return ear == null ? factor : ear.code() + "." + factor;
    }

    /** The message that words the question; its argument is {@link #earWord}. */
    public String key() {
        return "estimate.ask." + Factors.family(factor);
    }

    /** The key of the word for what is asked about. */
    public String subjectWord() {
        return Factors.subjectWord(factor);
    }

    /** The key of the ear's name. */
    public String earWord() {
        return "Ear." + (ear == null ? "" : ear.code());
    }
}
