package org.earslot.patient;

import java.util.Optional;
import org.earslot.ear.Word;

/** How the patient wants to be told. */
public enum ContactRoute implements Word {
    LETTER("letter"),
    TEXT("text"),
    CALL("call"),
    NOT_KNOWN("not_known");

    private final String code;

    ContactRoute(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<ContactRoute> of(String code) {
        return Word.find(values(), code);
    }
}
