package org.earslot.patient;

import org.earslot.ear.Word;

/** What belongs to a patient and follows a merge. */
public enum MergedKind implements Word {
    REFERRAL("referral"),
    APPOINTMENT("appointment"),
    VISIT("visit");

    private final String code;

    MergedKind(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }
}
