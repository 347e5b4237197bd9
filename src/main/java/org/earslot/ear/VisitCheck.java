package org.earslot.ear;

import java.util.Optional;

/**
 * What is ticked in the room, in this order. The Royal Marsden Manual (procedure 9.13) and the national occupational
 * standard SFHCHS20 name them; that just these are prompted is common practice, no source. The instruments are recorded
 * with their set.
 */
public enum VisitCheck implements Word {
    IDENTITY("identity"),
    CONSENT("consent"),
    OTOSCOPY_BEFORE("otoscopy_before"),
    OTOSCOPY_AFTER("otoscopy_after"),
    ADVICE("advice");

    private final String code;

    VisitCheck(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<VisitCheck> of(String code) {
        return Word.find(values(), code);
    }
}
