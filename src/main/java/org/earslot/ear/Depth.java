package org.earslot.ear;

import java.util.Optional;

/** How deep the wax lies. */
public enum Depth implements Word {
    OUTER_THIRD("outer_third"),
    DEEP_CANAL("deep_canal"),
    AGAINST_DRUM("against_drum");

    private final String code;

    Depth(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Depth> of(String code) {
        return Word.find(values(), code);
    }
}
