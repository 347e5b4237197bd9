package org.earslot.aftercare;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What came out of visits. */
interface StoredFollowUps extends JpaRepository<FollowUp, UUID> {

    Optional<FollowUp> findByClinicIdAndVisitId(ClinicId clinicId, UUID visitId);
}
