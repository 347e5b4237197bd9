package org.earslot.aftercare;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** What was decided after missed visits. */
interface MissedDecisions extends JpaRepository<MissedDecision, UUID> {

    List<MissedDecision> findByClinicIdAndAppointmentIdIn(ClinicId clinicId, Collection<UUID> appointmentIds);
}
