package org.earslot.aftercare;

import java.util.Optional;
import org.earslot.ear.Word;

/** What can be decided about a referral after a visit that was missed. */
public enum MissedChoice implements Word {
    BOOK_AGAIN("book_again"),
    CLOSE("close");

    private final String code;

    MissedChoice(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<MissedChoice> of(String code) {
        return Word.find(values(), code);
    }
}
