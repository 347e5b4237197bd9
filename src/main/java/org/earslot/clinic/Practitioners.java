package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The practitioners of each clinic. */
public interface Practitioners extends JpaRepository<Practitioner, UUID> {

    List<Practitioner> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<Practitioner> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<Practitioner> findByClinicIdAndName(ClinicId clinicId, String name);
}
