package org.earslot.patient;

import java.util.List;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ChangedFields;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/** Changes what is known of a patient: stores the details before, and names the changed fields in the audit trail. */
@Component
public class PatientAmendments {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final PatientChanges changes;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    PatientAmendments(PatientChanges changes, ClinicClock clock, ApplicationEventPublisher events) {
        this.changes = changes;
        this.clock = clock;
        this.events = events;
    }

    /** Replaces the details of {@code patient}, as {@code who} said; does nothing if they are the same. */
    @Transactional(propagation = Propagation.MANDATORY)
    public void amend(Patient patient, PatientDetails details, String who) {
        PatientDetails before = patient.details();
        List<String> changed = ChangedFields.between(before, details);
        if (changed.isEmpty()) {
            return;
        }
        String fields = String.join(",", changed);
        ClinicId clinicId = patient.clinicId();
        changes.save(
                new PatientChange(clinicId, patient.id(), clock.now(), who, fields, JSON.writeValueAsString(before)));
        patient.amend(details);
        events.publishEvent(new Audited.Entry(
                clinicId, "patient-amended", "patient", patient.id().toString(), fields));
    }
}
