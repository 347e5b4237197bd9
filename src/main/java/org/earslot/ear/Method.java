package org.earslot.ear;

import java.util.Optional;

/** How wax is taken out. */
public enum Method implements Word {
    IRRIGATION("irrigation"),
    MICROSUCTION("microsuction"),
    MANUAL_REMOVAL("manual_removal");

    private final String code;

    Method(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Method> of(String code) {
        return Word.find(values(), code);
    }
}
