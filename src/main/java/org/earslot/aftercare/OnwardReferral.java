package org.earslot.aftercare;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.earslot.aftercare.OnwardReferrals.Details;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.HearingChange;
import org.earslot.referral.Priority;
import org.jspecify.annotations.Nullable;

/** What is said to the service that a patient is referred on to, beyond the record of the visit. */
@Entity
class OnwardReferral {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID visitId;
    private @Nullable String sentTo;
    private @Nullable String reason;
    private String priority;
    private String hearingChange;
    private Answer patientTold;
    private String who;
    private Instant changedAt;

    @Version
    private int version;

    protected OnwardReferral() {}

    OnwardReferral(ClinicId clinicId, UUID visitId, Details said, String who, Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.visitId = visitId;
        say(said, who, now);
    }

    final void say(Details said, String by, Instant now) {
        sentTo = said.to();
        reason = said.reason();
        priority = said.priority().code();
        hearingChange = said.hearing().code();
        patientTold = said.told();
        who = by;
        changedAt = now;
    }

    Details details() {
        return new Details(
                sentTo,
                reason,
                Priority.of(priority).orElseThrow(),
                HearingChange.of(hearingChange).orElseThrow(),
                patientTold);
    }
}
