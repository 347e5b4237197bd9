package org.earslot.clinic.policy;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The changes of slots that were seen on a month before they were made. */
interface SlotChanges extends JpaRepository<SlotChange, UUID> {

    Optional<SlotChange> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<SlotChange> findFirstByClinicIdAndUndoneAtIsNullOrderByMadeAtDesc(ClinicId clinicId);
}
