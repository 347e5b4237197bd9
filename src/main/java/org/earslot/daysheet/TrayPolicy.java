package org.earslot.daysheet;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import org.earslot.clinic.ClinicId;

/** Says that a clinic has tray rules of its own, even if it has none left. */
@Entity
class TrayPolicy {

    @Id
    private ClinicId clinicId;

    private Instant settledAt;

    protected TrayPolicy() {}

    TrayPolicy(ClinicId clinicId, Instant settledAt) {
        this.clinicId = clinicId;
        this.settledAt = settledAt;
    }

    ClinicId clinicId() {
        return clinicId;
    }
}
