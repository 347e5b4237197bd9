package org.earslot.patient;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.util.UUID;
import org.earslot.clinic.ClinicId;

/** Something that went from one record to the other when they were merged. */
@Entity
public class PatientMergeItem {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID mergeId;
    private String kind;
    private UUID itemId;

    protected PatientMergeItem() {}

    public PatientMergeItem(ClinicId clinicId, UUID mergeId, MergedKind kind, UUID itemId) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.mergeId = mergeId;
        this.kind = kind.code();
        this.itemId = itemId;
    }

    public UUID itemId() {
        return itemId;
    }
}
