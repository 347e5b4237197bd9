package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** What the lead has settled about referrals. */
@Entity
public class ReferralPolicy {

    /** Hearing-aid wearers are looked at again after 3 to 6 months (AAO-HNS cerumen guideline 2017). */
    private static final int RECALL_MONTHS = 6;

    @Id
    private UUID clinicId;

    private @Nullable UUID redFlagClinicianId;

    private int recallMonths;

    @Version
    private int version;

    protected ReferralPolicy() {}

    /** The policy a clinic starts with. */
    public static ReferralPolicy starting(UUID clinicId) {
        ReferralPolicy policy = new ReferralPolicy();
        policy.clinicId = clinicId;
        policy.recallMonths = RECALL_MONTHS;
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
}
