package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The changes of days of each clinic. */
public interface Reschedules extends JpaRepository<Reschedule, UUID> {

    Optional<Reschedule> findByClinicIdAndId(ClinicId clinicId, UUID id);

    /** Those of a day that are not undone, the latest first. */
    List<Reschedule> findByClinicIdAndClinicDateAndUndoneAtIsNullOrderByMadeAtDesc(ClinicId clinicId, LocalDate date);
}
