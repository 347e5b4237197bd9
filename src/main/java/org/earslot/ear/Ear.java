package org.earslot.ear;

import java.util.Optional;

/** The ear, as the patient's own right or left. */
public enum Ear implements Word {
    RIGHT("right"),
    LEFT("left");

    private final String code;

    Ear(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Ear> of(String code) {
        return Word.find(values(), code);
    }
}
