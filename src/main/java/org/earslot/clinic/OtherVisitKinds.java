package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The other kinds of visit, of fixed length. */
public interface OtherVisitKinds extends JpaRepository<OtherVisitKind, UUID> {

    List<OtherVisitKind> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<OtherVisitKind> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<OtherVisitKind> findByClinicIdAndName(ClinicId clinicId, String name);
}
