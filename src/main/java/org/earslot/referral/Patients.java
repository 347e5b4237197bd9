package org.earslot.referral;

import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The patients of each clinic. */
public interface Patients extends JpaRepository<Patient, UUID> {

    Optional<Patient> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<Patient> findByClinicIdAndLocalNumber(UUID clinicId, String localNumber);
}
