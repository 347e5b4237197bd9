package org.earslot.clinic;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The days that depart from the weekly pattern. */
public interface SessionExceptions extends JpaRepository<SessionException, UUID> {

    List<SessionException> findByClinicIdAndDateBetween(ClinicId clinicId, LocalDate first, LocalDate last);

    Optional<SessionException> findByClinicIdAndId(ClinicId clinicId, UUID id);
}
