package org.earslot.patient;

import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Records whether a patient may be written to. */
@Service
public class PatientCorrespondence {

    private final Patients patients;
    private final ApplicationEventPublisher events;

    PatientCorrespondence(Patients patients, ApplicationEventPublisher events) {
        this.patients = patients;
        this.events = events;
    }

    /** Writes to the patient so from now on; false if there is no such patient. */
    @Transactional
    public boolean record(ClinicId clinicId, UUID patientId, Correspondence correspondence) {
        return patients.findByClinicIdAndId(clinicId, patientId)
                .map(patient -> {
                    patient.correspondBy(correspondence);
                    events.publishEvent(new Audited.Entry(
                            clinicId,
                            "correspondence-changed",
                            "patient",
                            patientId.toString(),
                            correspondence.code()));
                    return true;
                })
                .orElse(false);
    }
}
