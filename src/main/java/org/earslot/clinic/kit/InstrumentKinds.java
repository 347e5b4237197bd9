package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The kinds of instrument sets of each clinic. */
public interface InstrumentKinds extends JpaRepository<InstrumentKind, UUID> {

    List<InstrumentKind> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<InstrumentKind> findByClinicIdAndName(ClinicId clinicId, String name);
}
