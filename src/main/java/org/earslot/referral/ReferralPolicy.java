package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** What the lead has settled about referrals. */
@Entity
public class ReferralPolicy {

    /** Hearing-aid wearers are looked at again after 3 to 6 months (AAO-HNS cerumen guideline 2017). */
    private static final int RECALL_MONTHS = 6;

    @Id
    private ClinicId clinicId;

    private @Nullable UUID redFlagClinicianId;

    private int recallMonths;
    private int didNotAttendLimit;
    private int shortNoticeDays;

    @Version
    private int version;

    protected ReferralPolicy() {}

    /** The policy a clinic starts with. */
    public static ReferralPolicy starting(ClinicId clinicId) {
        ReferralPolicy policy = new ReferralPolicy();
        policy.clinicId = clinicId;
        policy.recallMonths = RECALL_MONTHS;
        policy.didNotAttendLimit = 2;
        policy.shortNoticeDays = 2;
        return policy;
    }

    /** Red flags go to this clinician unless another is named. */
    void sendRedFlagsTo(@Nullable UUID clinicianId) {
        redFlagClinicianId = clinicianId;
    }

    /** Who red flags go to unless another is named. */
    public Optional<UUID> redFlagClinicianId() {
        return Optional.ofNullable(redFlagClinicianId);
    }

    /** Hearing-aid wearers are recalled after so many months: 3, 6, or 0 for never. */
    void recallAfter(int months) {
        recallMonths = months;
    }

    /** After how many months hearing-aid wearers are recalled; 0 for never. */
    public int recallMonths() {
        return recallMonths;
    }

    /**
     * Settles the waiting list.
     *
     * @param closeAfterMissed a referral is closed after so many visits that were not attended; 0 for never
     * @param daysOfNotice a place so few days ahead is for those who can come at short notice
     */
    void settleWaiting(int closeAfterMissed, int daysOfNotice) {
        didNotAttendLimit = closeAfterMissed;
        shortNoticeDays = daysOfNotice;
    }

    /** After how many visits that were not attended a referral is closed; 0 for never. Start: 2 (common practice, no source). */
    public int didNotAttendLimit() {
        return didNotAttendLimit;
    }

    /** How few days ahead a place is at short notice. Start: 2 (the project's own assumption). */
    public int shortNoticeDays() {
        return shortNoticeDays;
    }
}
