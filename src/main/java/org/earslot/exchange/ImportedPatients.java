package org.earslot.exchange;

import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientAmendments;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.springframework.stereotype.Component;

/** The patients of an imported diary. What is known of them already stays, unless a line is to replace it. */
@Component
class ImportedPatients {

    private final Patients patients;
    private final PatientAmendments amendments;
    private final ClinicClock clock;

    ImportedPatients(Patients patients, PatientAmendments amendments, ClinicClock clock) {
        this.patients = patients;
        this.amendments = amendments;
        this.clock = clock;
    }

    /** The patient of an appointment. */
    Optional<Patient> of(Appointment appointment) {
        return appointment.patientId().flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id));
    }

    /**
     * Whether a line says of a patient what is known.
     *
     * @param update whether the line is to replace what is known, so that details count and not the number alone
     */
    static boolean isSame(Patient known, BookingLine line, boolean update) {
        return known.localNumber().equals(line.patientRef())
                && (!update || known.details().completedBy(line.person()).equals(known.details()));
    }

    /** Whether the number of a line belongs to a patient with another name or date of birth. */
    boolean isSomebodyElse(ClinicId clinicId, BookingLine line) {
        return patients.known(clinicId, line.patientRef())
                .map(known -> !known.details().contradictedBy(line.person()).isEmpty())
                .orElse(false);
    }

    /** The patient of a line, with what the line says where nothing was known; new if the number is. */
    Patient completed(ClinicId clinicId, BookingLine line, String who) {
        return patients.known(clinicId, line.patientRef())
                .map(known -> amended(known, line.person().completedBy(known.details()), who))
                .orElseGet(() -> patients.save(
                        new Patient(UUID.randomUUID(), clinicId, line.patientRef(), line.person(), clock.now())));
    }

    /** Replaces what is known by what a line says. */
    void replace(Patient known, BookingLine line, String who) {
        amended(known, known.details().completedBy(line.person()), who);
    }

    private Patient amended(Patient known, PatientDetails details, String who) {
        amendments.amend(known, details, who);
        return known;
    }
}
