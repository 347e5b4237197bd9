package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The kit of each clinic. */
public interface KitUnits extends JpaRepository<KitUnit, UUID> {

    List<KitUnit> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<KitUnit> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<KitUnit> findByClinicIdAndName(ClinicId clinicId, String name);
}
