package org.earslot.daysheet;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The tray rules that clinics have settled for themselves. */
interface StoredTrayRules extends JpaRepository<TrayRule, UUID> {

    List<TrayRule> findByClinicIdOrderByPlace(ClinicId clinicId);

    Optional<TrayRule> findByClinicIdAndId(ClinicId clinicId, UUID id);

    void deleteByClinicId(ClinicId clinicId);
}
