package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The practitioners of each clinic. */
public interface Practitioners extends JpaRepository<Practitioner, UUID> {

    List<Practitioner> findByClinicIdOrderByName(UUID clinicId);

    Optional<Practitioner> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<Practitioner> findByClinicIdAndName(UUID clinicId, String name);
}
