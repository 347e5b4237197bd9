package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The red flags raised in each clinic. */
public interface RedFlagCases extends JpaRepository<RedFlagCase, UUID> {

    List<RedFlagCase> findByClinicIdAndSettledAtIsNullOrderByRaisedAt(UUID clinicId);

    List<RedFlagCase> findByClinicIdAndReferralIdOrderByRaisedAtDesc(UUID clinicId, UUID referralId);

    Optional<RedFlagCase> findFirstByClinicIdAndReferralIdAndSettledAtIsNull(UUID clinicId, UUID referralId);
}
