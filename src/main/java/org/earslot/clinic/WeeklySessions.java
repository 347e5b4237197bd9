package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The weekly pattern of each clinic. */
public interface WeeklySessions extends JpaRepository<WeeklySession, UUID> {

    List<WeeklySession> findByClinicId(ClinicId clinicId);

    Optional<WeeklySession> findByClinicIdAndId(ClinicId clinicId, UUID id);
}
