package org.earslot.referral;

import org.earslot.page.Reason;

/** Why a referral keeps its status. */
public enum StaysPut implements Reason {
    BOOKED("referral-booked"),
    RED_FLAG("red-flag-open"),
    RED_FLAGS_TO_ASK("red-flags-not-asked"),
    PATIENT_DECEASED("patient-deceased");

    private final String code;

    StaysPut(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    @Override
    public Kind kind() {
        return Kind.CONFLICT;
    }

    @Override
    public String messageKey() {
        return "referral.staysPut." + code;
    }
}
