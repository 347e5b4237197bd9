package org.earslot.ear;

import java.util.Optional;

/** An answer to a yes-or-no question; "not known" differs from "no". */
public enum Answer implements Word {
    YES("yes"),
    NO("no"),
    NOT_KNOWN("not_known");

    private final String code;

    Answer(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Answer> of(String code) {
        return Word.find(values(), code);
    }
}
