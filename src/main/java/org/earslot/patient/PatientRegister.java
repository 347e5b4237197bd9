package org.earslot.patient;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** Takes patients in and changes what is known of them, within the transaction of whoever does so. */
@Component
public class PatientRegister {

    private final Patients patients;
    private final PatientNumbers numbers;
    private final PatientAmendments amendments;
    private final ClinicClock clock;

    PatientRegister(Patients patients, PatientNumbers numbers, PatientAmendments amendments, ClinicClock clock) {
        this.patients = patients;
        this.numbers = numbers;
        this.amendments = amendments;
        this.clock = clock;
    }

    /** Lets one transaction at a time take patients in. */
    @Transactional(propagation = Propagation.MANDATORY)
    public void hold(ClinicId clinicId) {
        numbers.hold(clinicId);
    }

    /** The patient of that number; empty for none, or without a number. */
    public Optional<Patient> known(ClinicId clinicId, @Nullable String localNumber) {
        return Optional.ofNullable(localNumber).flatMap(number -> patients.known(clinicId, number));
    }

    public Optional<Patient> find(ClinicId clinicId, UUID id) {
        return patients.findByClinicIdAndId(clinicId, id);
    }

    /**
     * A new patient.
     *
     * @param localNumber null for the next number
     */
    @Transactional(propagation = Propagation.MANDATORY)
    public Patient add(ClinicId clinicId, @Nullable String localNumber, PatientDetails details) {
        String number = localNumber == null ? numbers.next(clinicId) : localNumber;
        return patients.save(new Patient(UUID.randomUUID(), clinicId, number, details, clock.now()));
    }

    /** Replaces the details of {@code patient}, as {@code who} said. */
    @Transactional(propagation = Propagation.MANDATORY)
    public void amend(Patient patient, PatientDetails details, String who) {
        amendments.amend(patient, details, who);
    }
}
