package org.earslot.clinic.policy;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The changes of policies that were seen before they were made. */
interface PolicyChanges extends JpaRepository<PolicyChange, UUID> {

    Optional<PolicyChange> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<PolicyChange> findFirstByClinicIdAndUndoneAtIsNullOrderByMadeAtDesc(ClinicId clinicId);
}
