package org.earslot.ear;

import java.util.Optional;

/** What became of one ear. */
public enum Outcome implements Word {
    CLEAR("clear"),
    RESIDUAL("residual"),
    NOT_REMOVED("not_removed"),
    NOT_ATTEMPTED("not_attempted"),
    NO_WAX("no_wax"),
    UNSUITABLE_ON_DAY("unsuitable_on_day");

    private final String code;

    Outcome(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Outcome> of(String code) {
        return Word.find(values(), code);
    }
}
