package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What each clinic says of red flags in its own words. */
interface RedFlagGuidances extends JpaRepository<RedFlagGuidance, UUID> {

    List<RedFlagGuidance> findByClinicId(ClinicId clinicId);

    Optional<RedFlagGuidance> findByClinicIdAndFlag(ClinicId clinicId, String flag);
}
