package org.earslot.account;

import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import java.time.Instant;
import java.util.HashSet;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** One line of the audit trail: who did what to which record, and when. Never changed, never a patient's details. */
@Entity
public class AuditEntry {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private @Nullable Long id;

    private ClinicId clinicId;
    private Instant at;
    private String who;
    private String action;
    private String subjectKind;
    private @Nullable String subjectId;
    private @Nullable String detail;

    @ElementCollection
    @CollectionTable(name = "audit_patient", joinColumns = @JoinColumn(name = "entry_id"))
    @Column(name = "patient_id")
    private Set<UUID> patients = new HashSet<>();

    protected AuditEntry() {}

    AuditEntry(Audited done, String who, Instant at) {
        this.clinicId = done.clinicId();
        this.at = at;
        this.who = who;
        this.action = done.action();
        this.subjectKind = done.subjectKind();
        this.subjectId = done.subjectId();
        this.detail = done.detail();
        this.patients.addAll(done.patients());
    }

    public Long id() {
        return Objects.requireNonNull(id);
    }

    public Instant at() {
        return at;
    }

    public String who() {
        return who;
    }

    public String action() {
        return action;
    }

    public String subjectKind() {
        return subjectKind;
    }

    public Optional<String> subjectId() {
        return Optional.ofNullable(subjectId);
    }

    public Optional<String> detail() {
        return Optional.ofNullable(detail);
    }
}
