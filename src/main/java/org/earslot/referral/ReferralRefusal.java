package org.earslot.referral;

import org.earslot.page.Reason;

/** Why something is not done about a referral or a record of a patient. */
public enum ReferralRefusal implements Reason {
    BOOKED("referral-booked", "referral.staysPut.referral-booked"),
    RED_FLAG("red-flag-open", "referral.staysPut.red-flag-open"),
    RED_FLAGS_TO_ASK("red-flags-not-asked", "referral.staysPut.red-flags-not-asked"),
    PATIENT_DECEASED("patient-deceased", "referral.staysPut.patient-deceased"),
    DECEASED_NOT_TAKEN_IN("patient-deceased", "referral.deceased.notTakenIn"),
    /** The method of a booked referral is changed by its appointment alone. */
    METHOD_OF_BOOKED("referral-booked", "referral.refused.booked"),
    METHOD_NOT_HELD("method-not-held", "referral.refused.methodNotHeld"),
    NOTHING_TO_OVERRIDE("nothing-to-override", "referral.refused.nothingToOverride"),
    NO_RED_FLAG_OPEN("no-red-flag-open", "referral.refused.noRedFlagOpen"),
    NOT_CLOSED("referral-not-closed", "referral.refused.notClosed"),
    NOT_TO_MERGE("not-to-merge", "referral.refused.notToMerge"),
    NOT_TO_PART("not-to-part", "referral.refused.notToPart");

    private final String code;
    private final String messageKey;

    ReferralRefusal(String code, String messageKey) {
        this.code = code;
        this.messageKey = messageKey;
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
        return messageKey;
    }
}
