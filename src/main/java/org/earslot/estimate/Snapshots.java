package org.earslot.estimate;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The kept fits of each clinic. */
public interface Snapshots extends JpaRepository<Snapshot, UUID> {

    List<Snapshot> findByClinicIdOrderByFittedAtDesc(UUID clinicId);

    Optional<Snapshot> findByClinicIdAndVersion(UUID clinicId, String version);

    Optional<Snapshot> findByClinicIdAndInForceTrue(UUID clinicId);

    /** The version in force alone: asked before every estimate, so that all servers use the same one. */
    @Query("select s.version from Snapshot s where s.clinicId = :clinicId and s.inForce")
    Optional<String> versionInForce(UUID clinicId);
}
