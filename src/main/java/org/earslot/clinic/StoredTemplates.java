package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The templates of weekly sessions. */
interface StoredTemplates extends JpaRepository<SessionTemplate, UUID> {

    List<SessionTemplate> findByClinicIdAndWeeklySessionIdAndWithdrawnAtIsNullOrderByMadeAtDesc(
            ClinicId clinicId, UUID weeklySessionId);

    Optional<SessionTemplate> findByClinicIdAndId(ClinicId clinicId, UUID id);
}
