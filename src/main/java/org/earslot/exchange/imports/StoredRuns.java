package org.earslot.exchange.imports;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;

/** The runs of all clinics as rows. */
interface StoredRuns extends JpaRepository<ImportRun, UUID> {

    Optional<ImportRun> findByClinicIdAndId(ClinicId clinicId, UUID id);

    List<ImportRun> findByClinicIdOrderByStartedAtDesc(ClinicId clinicId, Limit most);

    List<ImportRun> findByRunningForNotNull();
}
