package org.earslot.aftercare;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** One for each visit that ended with a referral on. */
interface StoredOnwardReferrals extends JpaRepository<OnwardReferral, UUID> {

    Optional<OnwardReferral> findByClinicIdAndVisitId(ClinicId clinicId, UUID visitId);
}
