package org.earslot.clinic.kit;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** Which sets were used at which appointments. */
public interface SetUses extends JpaRepository<SetUse, UUID> {

    List<SetUse> findByClinicIdAndAppointmentIdOrderByAt(ClinicId clinicId, UUID appointmentId);

    List<SetUse> findByClinicIdAndAppointmentIdIn(ClinicId clinicId, Collection<UUID> appointmentIds);

    Optional<SetUse> findFirstByClinicIdAndSetIdOrderByAtDesc(ClinicId clinicId, UUID setId);

    List<SetUse> findByClinicIdAndCycleNumberOrderByAt(ClinicId clinicId, String cycleNumber);
}
