package org.earslot.caution;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import java.time.Instant;
import org.earslot.clinic.ClinicId;

/** How often a clinic has changed its table, and who was last. */
@Entity
@Table(name = "caution_table")
class CautionChanges {

    @Id
    private ClinicId clinicId;

    private int changes;
    private String changedBy;
    private Instant changedAt;

    @Version
    private int version;

    protected CautionChanges() {}

    CautionChanges(ClinicId clinicId) {
        this.clinicId = clinicId;
    }

    void oneMore(String who, Instant now) {
        changes++;
        changedBy = who;
        changedAt = now;
    }

    int changes() {
        return changes;
    }
}
