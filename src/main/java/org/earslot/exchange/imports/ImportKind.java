package org.earslot.exchange.imports;

import java.util.Optional;
import org.earslot.ear.Word;

/** The kinds of file that can be imported. */
public enum ImportKind implements Word {
    VISIT_LOG("visit_log"),
    BOOKINGS("bookings");

    private final String code;

    ImportKind(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<ImportKind> of(String code) {
        return Word.find(values(), code);
    }
}
