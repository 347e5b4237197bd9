package org.earslot.aftercare;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.util.UUID;

/** The referral that came out of a visit. */
@Entity
class FollowUp {

    @Id
    private UUID id;

    private UUID clinicId;
    private UUID visitId;
    private UUID referralId;

    protected FollowUp() {}

    FollowUp(UUID clinicId, UUID visitId, UUID referralId) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.visitId = visitId;
        this.referralId = referralId;
    }

    UUID referralId() {
        return referralId;
    }
}
