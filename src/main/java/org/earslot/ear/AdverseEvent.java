package org.earslot.ear;

import java.util.Optional;

/** What went wrong, if anything; {@link #INFECTION} is often known only days later. */
public enum AdverseEvent implements Word {
    NONE("none"),
    PAIN("pain"),
    BLEED("bleed"),
    SUSPECTED_PERFORATION("suspected_perforation"),
    DIZZINESS("dizziness"),
    FAINT("faint"),
    TINNITUS("tinnitus"),
    HEARING_WORSE("hearing_worse"),
    INFECTION("infection"),
    OTHER("other");

    private final String code;

    AdverseEvent(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether something went wrong. */
    public boolean harmed() {
        return this != NONE;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<AdverseEvent> of(String code) {
        return Word.find(values(), code);
    }
}
