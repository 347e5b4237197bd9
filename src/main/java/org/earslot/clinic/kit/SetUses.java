package org.earslot.clinic.kit;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** Which sets were used at which appointments. */
public interface SetUses extends JpaRepository<SetUse, UUID> {

    List<SetUse> findByClinicIdAndAppointmentIdOrderByAt(UUID clinicId, UUID appointmentId);

    List<SetUse> findByClinicIdAndAppointmentIdIn(UUID clinicId, Collection<UUID> appointmentIds);

    Optional<SetUse> findFirstByClinicIdAndSetIdOrderByAtDesc(UUID clinicId, UUID setId);

    List<SetUse> findByClinicIdAndCycleNumberOrderByAt(UUID clinicId, String cycleNumber);
}
