package org.earslot.estimate;

import org.earslot.ear.Word;

/** Who can answer a question about a visit to come. */
public enum WhoCanAnswer implements Word {
    PATIENT("patient"),
    REFERRER("referrer"),
    PRACTITIONER("practitioner");

    private final String code;

    WhoCanAnswer(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }
}
