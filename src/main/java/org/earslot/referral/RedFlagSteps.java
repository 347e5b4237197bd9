package org.earslot.referral;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What was done about red flags. */
public interface RedFlagSteps extends JpaRepository<RedFlagStep, UUID> {

    List<RedFlagStep> findByClinicIdAndCaseIdInOrderByAt(ClinicId clinicId, Collection<UUID> caseIds);
}
