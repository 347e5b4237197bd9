package org.earslot.ear;

import java.util.Optional;

/** The width of the ear canal. */
public enum Canal implements Word {
    WIDE("wide"),
    AVERAGE("average"),
    NARROW("narrow"),
    VERY_NARROW("very_narrow");

    private final String code;

    Canal(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Canal> of(String code) {
        return Word.find(values(), code);
    }
}
