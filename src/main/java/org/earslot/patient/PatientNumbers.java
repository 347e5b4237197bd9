package org.earslot.patient;

import org.earslot.clinic.ClinicId;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** Local numbers for patients who come without one: N00001, N00002 and so on, each once, however many come at a time. */
@Component
public class PatientNumbers {

    private final JdbcTemplate jdbc;
    private final Patients patients;

    PatientNumbers(JdbcTemplate jdbc, Patients patients) {
        this.jdbc = jdbc;
        this.patients = patients;
    }

    /**
     * Lets one transaction at a time take patients in. An update of a column that is no key, since on PostgreSQL that is a
     * lock which rows that refer to the clinic do not wait for.
     */
    @Transactional(propagation = Propagation.MANDATORY)
    public void hold(ClinicId clinicId) {
        jdbc.update("update clinic set last_patient_number = last_patient_number where id = ?", clinicId.value());
    }

    /** The next number that no patient of the clinic has. */
    @Transactional(propagation = Propagation.MANDATORY)
    public String next(ClinicId clinicId) {
        String number;
        do {
            jdbc.update(
                    "update clinic set last_patient_number = last_patient_number + 1 where id = ?", clinicId.value());
            Integer last = jdbc.queryForObject(
                    "select last_patient_number from clinic where id = ?", Integer.class, clinicId.value());
            number = String.format("N%05d", last);
        } while (patients.findByClinicIdAndLocalNumber(clinicId, number).isPresent());
        return number;
    }
}
