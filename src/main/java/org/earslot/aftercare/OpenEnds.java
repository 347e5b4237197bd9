package org.earslot.aftercare;

import java.time.Period;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ears;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Visits that left an ear not clear and were left at that: nothing is decided, or the patient is to come again and no
 * follow-up referral is made. Without this list nobody would notice.
 */
@Service
public class OpenEnds {

    private static final Period LOOKS_BACK = Period.ofWeeks(8);

    private final Visits visits;
    private final Appointments appointments;
    private final Patients patients;
    private final StoredFollowUps followUps;
    private final ClinicClock clock;

    OpenEnds(
            Visits visits, Appointments appointments, Patients patients, StoredFollowUps followUps, ClinicClock clock) {
        this.visits = visits;
        this.appointments = appointments;
        this.patients = patients;
        this.followUps = followUps;
        this.clock = clock;
    }

    /**
     * @param ears those not clear
     * @param decided whether the patient is to come again; if not, nothing is decided
     */
    public record OpenEnd(
            UUID appointmentId, Visit visit, @Nullable Patient patient, Ears ears, boolean decided) {}

    /** The longest ago first. */
    @Transactional(readOnly = true)
    public List<OpenEnd> of(ClinicId clinicId) {
        return visits.withoutAnEnd(clinicId, clock.today(clinicId).minus(LOOKS_BACK)).stream()
                .map(visit -> openEnd(clinicId, visit))
                .flatMap(Optional::stream)
                .toList();
    }

    private Optional<OpenEnd> openEnd(ClinicId clinicId, Visit visit) {
        Optional<Ears> ears = FollowUpDetails.open(visit)
                .filter(open ->
                        followUps.findByClinicIdAndVisitId(clinicId, visit.id()).isEmpty());
        return ears.flatMap(open -> appointments
                .findByClinicIdAndVisitId(clinicId, visit.id())
                .map(appointment -> new OpenEnd(
                        appointment.id(),
                        visit,
                        appointment
                                .patientId()
                                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                                .orElse(null),
                        open,
                        visit.nextStep().isPresent())));
    }
}
