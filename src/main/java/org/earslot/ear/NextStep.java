package org.earslot.ear;

import java.util.Optional;

/**
 * What the practitioner decides at the end of a visit. Wax left behind decides nothing by itself: a little is often right
 * (common practice, no source).
 */
public enum NextStep implements Word {
    /** Enough is out and the drum was seen: nothing follows. */
    ENOUGH("enough"),
    COME_AGAIN("come_again"),
    REFER_ON("refer_on");

    private final String code;

    NextStep(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<NextStep> of(String code) {
        return Word.find(values(), code);
    }
}
