package org.earslot.referral;

import jakarta.persistence.Converter;
import org.earslot.clinic.WordCode;

/** The words of a referral in the database. */
final class ReferralCodes {

    private ReferralCodes() {}

    @Converter(autoApply = true)
    static class OriginCode extends WordCode<Origin> {
        OriginCode() {
            super(Origin.values());
        }
    }

    @Converter(autoApply = true)
    static class PriorityCode extends WordCode<Priority> {
        PriorityCode() {
            super(Priority.values());
        }
    }
}
