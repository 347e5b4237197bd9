package org.earslot.account;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The keys of programs, of all clinics. */
public interface IntegrationKeys extends JpaRepository<IntegrationKey, UUID> {

    Optional<IntegrationKey> findByName(String name);

    List<IntegrationKey> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<IntegrationKey> findByClinicIdAndId(ClinicId clinicId, UUID id);
}
