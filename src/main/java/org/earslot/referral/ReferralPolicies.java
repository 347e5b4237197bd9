package org.earslot.referral;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** What each clinic has settled about referrals. */
public interface ReferralPolicies extends JpaRepository<ReferralPolicy, UUID> {

    /** The clinic's policy, or the one it starts with. */
    default ReferralPolicy of(UUID clinicId) {
        return findById(clinicId).orElseGet(() -> ReferralPolicy.starting(clinicId));
    }
}
