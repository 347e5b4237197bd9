package org.earslot.referral;

import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What each clinic has settled about referrals. */
public interface ReferralPolicies extends JpaRepository<ReferralPolicy, ClinicId> {

    /** The clinic's policy, or the one it starts with. */
    default ReferralPolicy of(ClinicId clinicId) {
        return findById(clinicId).orElseGet(() -> ReferralPolicy.starting(clinicId));
    }
}
