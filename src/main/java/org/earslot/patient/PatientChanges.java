package org.earslot.patient;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The earlier details of each clinic's patients. */
public interface PatientChanges extends JpaRepository<PatientChange, UUID> {

    List<PatientChange> findByClinicIdAndPatientIdOrderByChangedAt(ClinicId clinicId, UUID patientId);
}
