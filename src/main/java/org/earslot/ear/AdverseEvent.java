package org.earslot.ear;

import java.util.Optional;

/** What went wrong, if anything. */
public enum AdverseEvent implements Word {
    NONE("none"),
    PAIN("pain"),
    BLEED("bleed"),
    DIZZINESS("dizziness"),
    OTHER("other");

    private final String code;

    AdverseEvent(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<AdverseEvent> of(String code) {
        return Word.find(values(), code);
    }
}
