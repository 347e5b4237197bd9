package org.earslot.ear;

import java.util.Optional;

/** How hearing has changed, as the patient says. */
public enum HearingChange implements Word {
    BETTER("better"),
    SAME("same"),
    WORSE("worse"),
    NOT_KNOWN("not_known");

    private final String code;

    HearingChange(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<HearingChange> of(String code) {
        return Word.find(values(), code);
    }
}
