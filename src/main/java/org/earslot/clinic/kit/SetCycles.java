package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;

/** Which sets went through which cycles. */
public interface SetCycles extends JpaRepository<SetCycle, UUID> {

    /** The cycle that the set is in. */
    Optional<SetCycle> findFirstByClinicIdAndSetIdAndEndedAtIsNullOrderByStartedAtDesc(ClinicId clinicId, UUID setId);

    List<SetCycle> findByClinicIdAndCycleNumberOrderByStartedAt(ClinicId clinicId, String cycleNumber);

    /** The latest first. */
    List<SetCycle> findByClinicIdOrderByStartedAtDesc(ClinicId clinicId, Limit limit);
}
