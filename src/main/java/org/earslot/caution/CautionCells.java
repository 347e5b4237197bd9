package org.earslot.caution;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.springframework.data.jpa.repository.JpaRepository;

/** The cells that clinics have settled themselves. */
interface CautionCells extends JpaRepository<CautionCell, UUID> {

    List<CautionCell> findByClinicIdOrderByPlace(ClinicId clinicId);

    List<CautionCell> findByClinicIdAndCautionAndMethod(ClinicId clinicId, Caution caution, Method method);
}
