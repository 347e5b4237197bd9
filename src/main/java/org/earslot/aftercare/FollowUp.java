package org.earslot.aftercare;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.util.UUID;
import org.earslot.clinic.ClinicId;

/** The referral that came out of a visit. */
@Entity
class FollowUp {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID visitId;
    private UUID referralId;

    protected FollowUp() {}

    FollowUp(ClinicId clinicId, UUID visitId, UUID referralId) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.visitId = visitId;
        this.referralId = referralId;
    }

    UUID referralId() {
        return referralId;
    }
}
