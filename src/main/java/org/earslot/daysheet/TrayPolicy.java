package org.earslot.daysheet;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.UUID;

/** Says that a clinic has tray rules of its own, even if it has none left. */
@Entity
class TrayPolicy {

    @Id
    private UUID clinicId;

    private Instant settledAt;

    protected TrayPolicy() {}

    TrayPolicy(UUID clinicId, Instant settledAt) {
        this.clinicId = clinicId;
        this.settledAt = settledAt;
    }

    UUID clinicId() {
        return clinicId;
    }
}
