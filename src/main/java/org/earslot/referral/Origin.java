package org.earslot.referral;

import java.util.Optional;
import org.earslot.ear.Word;

/** How a referral came in. */
public enum Origin implements Word {
    REFERRAL("referral"),
    SELF_REFERRAL("self_referral"),
    ENQUIRY("enquiry");

    private final String code;

    Origin(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Origin> of(String code) {
        return Word.find(values(), code);
    }
}
