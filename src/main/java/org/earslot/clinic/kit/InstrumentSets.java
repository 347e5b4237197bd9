package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The instrument sets of each clinic. */
public interface InstrumentSets extends JpaRepository<InstrumentSet, UUID> {

    List<InstrumentSet> findByClinicIdOrderByNumber(ClinicId clinicId);

    Optional<InstrumentSet> findByClinicIdAndId(ClinicId clinicId, UUID id);
}
