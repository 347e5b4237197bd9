package org.earslot.referral;

import java.util.Optional;
import org.earslot.ear.Word;

/** Where a referral stands. */
public enum ReferralStatus implements Word {
    TO_TRIAGE("to_triage"),
    READY_TO_BOOK("ready_to_book"),
    WAITING("waiting"),
    BOOKED("booked"),
    CLOSED("closed");

    private final String code;

    ReferralStatus(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<ReferralStatus> of(String code) {
        return Word.find(values(), code);
    }
}
