package org.earslot.patient;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.UUID;
import org.earslot.clinic.ClinicId;

/** What was known of a patient before one change, so that a wrong change can be seen and corrected. */
@Entity
public class PatientChange {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID patientId;
    private Instant changedAt;
    private String changedBy;
    private String fields;
    private String detailsBefore;

    protected PatientChange() {}

    PatientChange(
            ClinicId clinicId, UUID patientId, Instant changedAt, String changedBy, String fields, String before) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.patientId = patientId;
        this.changedAt = changedAt;
        this.changedBy = changedBy;
        this.fields = fields;
        this.detailsBefore = before;
    }

    public Instant changedAt() {
        return changedAt;
    }

    public String changedBy() {
        return changedBy;
    }

    /** The names of the fields that changed, joined by commas. */
    public String fields() {
        return fields;
    }

    /** The details before, as JSON. */
    String detailsBefore() {
        return detailsBefore;
    }
}
