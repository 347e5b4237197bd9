package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** Referrals begun and not finished. */
public interface ReferralDrafts extends JpaRepository<ReferralDraft, UUID> {

    Optional<ReferralDraft> findByClinicIdAndId(ClinicId clinicId, UUID id);

    List<ReferralDraft> findByClinicIdOrderBySavedAtDesc(ClinicId clinicId);
}
