package org.earslot.ear;

import java.util.Optional;

/** Why an ear was unsuitable on the day, apart from what was found in it (common practice, no source). */
public enum UnsuitableReason implements Word {
    PAIN("pain"),
    DISCHARGE("discharge"),
    TOO_HARD("too_hard"),
    UNWELL("unwell"),
    COULD_NOT_KEEP_STILL("could_not_keep_still"),
    NO_CONSENT("no_consent"),
    SOFTENER_NOT_USED("softener_not_used"),
    OTHER("other");

    private final String code;

    UnsuitableReason(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<UnsuitableReason> of(String code) {
        return Word.find(values(), code);
    }
}
