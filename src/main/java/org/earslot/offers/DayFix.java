package org.earslot.offers;

import java.util.Optional;
import org.earslot.ear.Word;

/** A way to improve a day. */
public enum DayFix implements Word {
    /** Other starts for those not confirmed. */
    RETIME("retime"),
    /** Two visits change places. */
    SWAP("swap"),
    /** One visit goes to another free place. */
    MOVE("move");

    private final String code;

    DayFix(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<DayFix> of(String code) {
        return Word.find(values(), code);
    }
}
