package org.earslot.caution;

import java.util.Optional;
import org.earslot.ear.Word;

/** How a method suits, from best to worst. */
public enum Verdict implements Word {
    /** No rule counts: no known caution, which is not the same as being suitable. */
    SUITABLE("suitable"),
    PRECAUTION("precaution"),
    CONTRAINDICATED("contraindicated");

    private final String code;

    Verdict(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    Verdict orWorse(Verdict other) {
        return compareTo(other) >= 0 ? this : other;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Verdict> of(String code) {
        return Word.find(values(), code);
    }
}
