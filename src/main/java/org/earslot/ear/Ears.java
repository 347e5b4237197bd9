package org.earslot.ear;

import java.util.List;
import java.util.Optional;

/** Which ears a visit treats. */
public enum Ears implements Word {
    RIGHT("right"),
    LEFT("left"),
    BOTH("both");

    private final String code;

    Ears(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Ears> of(String code) {
        return Word.find(values(), code);
    }

    /** The single ears, right before left. */
    public List<Ear> each() {
        return switch (this) {
            case RIGHT -> List.of(Ear.RIGHT);
            case LEFT -> List.of(Ear.LEFT);
            case BOTH -> List.of(Ear.RIGHT, Ear.LEFT);
        };
    }

    /** Whether {@code ear} is among them. */
    public boolean include(Ear ear) {
        return each().contains(ear);
    }
}
