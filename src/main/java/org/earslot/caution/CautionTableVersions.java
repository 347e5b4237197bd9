package org.earslot.caution;

import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** How often each clinic's table was changed. */
interface CautionTableVersions extends JpaRepository<CautionChanges, ClinicId> {}
