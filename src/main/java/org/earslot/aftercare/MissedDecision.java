package org.earslot.aftercare;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** What a person decided about a referral after a visit that was missed. */
@Entity
class MissedDecision {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID referralId;
    private UUID appointmentId;
    private String decision;
    private @Nullable String note;
    private String who;
    private Instant decidedAt;

    protected MissedDecision() {}

    MissedDecision(
            ClinicId clinicId,
            MissedVisits.Missed missed,
            MissedChoice choice,
            @Nullable String note,
            String who,
            Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.referralId = missed.referral().id();
        this.appointmentId = missed.appointment().id();
        this.decision = choice.code();
        this.note = note;
        this.who = who;
        this.decidedAt = now;
    }

    UUID appointmentId() {
        return appointmentId;
    }
}
