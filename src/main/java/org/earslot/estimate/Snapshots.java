package org.earslot.estimate;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The kept fits of each clinic. */
public interface Snapshots extends JpaRepository<Snapshot, UUID> {

    List<Snapshot> findByClinicIdOrderByFittedAtDesc(ClinicId clinicId);

    Optional<Snapshot> findByClinicIdAndVersion(ClinicId clinicId, String version);

    Optional<Snapshot> findByClinicIdAndInForceTrue(ClinicId clinicId);

    /** The version in force alone: asked before every estimate, so that all servers use the same one. */
    @Query("select s.version from Snapshot s where s.clinicId = :clinicId and s.inForce")
    Optional<String> versionInForce(ClinicId clinicId);
}
