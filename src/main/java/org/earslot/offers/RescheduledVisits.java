package org.earslot.offers;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** What each change of a day moved. */
interface RescheduledVisits extends JpaRepository<RescheduledVisit, UUID> {

    List<RescheduledVisit> findByClinicIdAndRearrangementId(UUID clinicId, UUID rearrangementId);
}
