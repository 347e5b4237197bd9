package org.earslot.booking;

import java.time.LocalDateTime;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Visits still to come of patients recorded as deceased, however they were booked: a person cancels each. */
@Service
public class VisitsToCancel {

    private final Appointments appointments;
    private final Patients patients;
    private final ClinicClock clock;

    VisitsToCancel(Appointments appointments, Patients patients, ClinicClock clock) {
        this.appointments = appointments;
        this.patients = patients;
        this.clock = clock;
    }

    /**
     * One such visit.
     *
     * @param start clinic-local
     */
    public record ToCancel(UUID appointmentId, LocalDateTime start, Patient patient) {}

    /** Those of today and later, the earliest first. */
    @Transactional(readOnly = true)
    public List<ToCancel> of(ClinicId clinicId) {
        List<Appointment> coming =
                appointments.ofThoseWrittenTo(clinicId, clock.today(clinicId), Correspondence.DECEASED.code()).stream()
                        .filter(one -> one.status().toCome())
                        .toList();
        Map<UUID, Patient> deceased = patients
                .findByClinicIdAndIdIn(
                        clinicId,
                        coming.stream()
                                .flatMap(one -> one.patientId().stream())
                                .distinct()
                                .toList())
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        return coming.stream()
                .map(one -> new ToCancel(
                        one.id(),
                        clock.local(clinicId, one.place().start()),
                        deceased.get(one.patientId().orElseThrow())))
                .toList();
    }
}
