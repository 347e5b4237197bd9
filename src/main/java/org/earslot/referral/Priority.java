package org.earslot.referral;

import java.util.Optional;
import org.earslot.ear.Word;

/** How soon the referrer asks for the visit. */
public enum Priority implements Word {
    ROUTINE("routine"),
    SOON("soon"),
    URGENT("urgent");

    private final String code;

    Priority(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Priority> of(String code) {
        return Word.find(values(), code);
    }
}
