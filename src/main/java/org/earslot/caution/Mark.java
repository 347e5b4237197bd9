package org.earslot.caution;

import java.util.Optional;
import org.earslot.ear.Word;

/** How far a statement of the clinic's tables may be relied on. */
public enum Mark implements Word {
    /** As the source named beside it says. */
    PUBLISHED("published"),
    /** The source speaks of something near, or is known second-hand only. */
    READ_ACROSS("read_across"),
    /** Common practice of the trade, without a source. */
    COMMON_PRACTICE("common_practice"),
    /** Written down from memory; nobody has checked it yet. */
    FROM_MEMORY("from_memory"),
    /** Changed by this clinic and not signed off yet. */
    CHANGED_HERE("changed_here"),
    /** Checked by the lead of this clinic. */
    SIGNED_OFF("signed_off");

    private final String code;

    Mark(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether it may be relied on: published, or signed off here. */
    public boolean reliable() {
        return this == PUBLISHED || this == SIGNED_OFF;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Mark> of(String code) {
        return Word.find(values(), code);
    }
}
