package org.earslot.ear;

import java.util.Optional;

/** How much of the canal the wax fills. */
public enum Occlusion implements Word {
    NONE("none"),
    PARTLY("partly"),
    OCCLUDING("occluding");

    private final String code;

    Occlusion(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Occlusion> of(String code) {
        return Word.find(values(), code);
    }
}
