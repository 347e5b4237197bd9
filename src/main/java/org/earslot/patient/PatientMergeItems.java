package org.earslot.patient;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What went along when records were merged. */
public interface PatientMergeItems extends JpaRepository<PatientMergeItem, UUID> {

    List<PatientMergeItem> findByClinicIdAndMergeIdAndKind(ClinicId clinicId, UUID mergeId, String kind);
}
