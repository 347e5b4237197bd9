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

    @Id
    private UUID clinicId;

    private @Nullable UUID redFlagClinicianId;

    @Version
    private int version;

    protected ReferralPolicy() {}

    /** The policy a clinic starts with. */
    public static ReferralPolicy starting(UUID clinicId) {
        ReferralPolicy policy = new ReferralPolicy();
        policy.clinicId = clinicId;
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
}
