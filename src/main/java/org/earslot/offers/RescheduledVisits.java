package org.earslot.offers;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What each change of a day moved. */
interface RescheduledVisits extends JpaRepository<RescheduledVisit, UUID> {

    List<RescheduledVisit> findByClinicIdAndRearrangementId(ClinicId clinicId, UUID rearrangementId);
}
