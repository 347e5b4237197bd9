package org.earslot.offers;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** What each change of a day moved. */
interface RearrangedVisits extends JpaRepository<RearrangedVisit, UUID> {

    List<RearrangedVisit> findByClinicIdAndRearrangementId(UUID clinicId, UUID rearrangementId);
}
