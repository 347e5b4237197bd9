package org.earslot.caution;

import java.util.List;
import java.util.UUID;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.springframework.data.jpa.repository.JpaRepository;

/** The cells that clinics have settled themselves. */
interface CautionCells extends JpaRepository<CautionCell, UUID> {

    List<CautionCell> findByClinicIdOrderByPlace(UUID clinicId);

    List<CautionCell> findByClinicIdAndCautionAndMethod(UUID clinicId, Caution caution, Method method);
}
