package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The kit of each clinic. */
public interface KitUnits extends JpaRepository<KitUnit, UUID> {

    List<KitUnit> findByClinicIdOrderByName(UUID clinicId);

    Optional<KitUnit> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<KitUnit> findByClinicIdAndName(UUID clinicId, String name);
}
