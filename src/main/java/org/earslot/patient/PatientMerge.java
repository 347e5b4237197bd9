package org.earslot.patient;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** Two records made one, with what is needed to part them again. */
@Entity
public class PatientMerge {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID keptId;
    private UUID goneId;
    private String keptBefore;
    private String who;
    private Instant at;
    private @Nullable String undoneBy;
    private @Nullable Instant undoneAt;

    protected PatientMerge() {}

    public PatientMerge(ClinicId clinicId, UUID keptId, UUID goneId, String keptBefore, String who, Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.keptId = keptId;
        this.goneId = goneId;
        this.keptBefore = keptBefore;
        this.who = who;
        this.at = at;
    }

    public void undo(String by, Instant now) {
        undoneBy = by;
        undoneAt = now;
    }

    public UUID id() {
        return id;
    }

    public UUID keptId() {
        return keptId;
    }

    public UUID goneId() {
        return goneId;
    }

    /** The details of the record that was kept, as they were before. */
    public String keptBefore() {
        return keptBefore;
    }

    public String who() {
        return who;
    }

    public Instant at() {
        return at;
    }

    public boolean stands() {
        return undoneAt == null;
    }
}
