package org.earslot.patient;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** Records that were merged. */
public interface PatientMerges extends JpaRepository<PatientMerge, UUID> {

    Optional<PatientMerge> findByClinicIdAndId(ClinicId clinicId, UUID id);

    @Query("""
            select m from PatientMerge m where m.clinicId = :clinicId and m.undoneAt is null
            and (m.keptId = :patientId or m.goneId = :patientId) order by m.at desc""")
    List<PatientMerge> standing(ClinicId clinicId, UUID patientId);
}
