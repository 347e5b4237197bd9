package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The other kinds of visit, of fixed length. */
public interface OtherVisitKinds extends JpaRepository<OtherVisitKind, UUID> {

    List<OtherVisitKind> findByClinicIdOrderByName(UUID clinicId);

    Optional<OtherVisitKind> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<OtherVisitKind> findByClinicIdAndName(UUID clinicId, String name);
}
