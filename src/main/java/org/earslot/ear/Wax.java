package org.earslot.ear;

import java.util.Optional;

/** The consistency of the wax. */
public enum Wax implements Word {
    LOOSE("loose"),
    SOFT("soft"),
    STICKY("sticky"),
    FIRM("firm"),
    HARD("hard");

    private final String code;

    Wax(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Wax> of(String code) {
        return Word.find(values(), code);
    }
}
