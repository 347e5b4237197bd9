package org.earslot.aftercare;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.earslot.clinic.ClinicId;

/** A clinic's own words for a letter, in place of the default. */
@Entity
class LetterText {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String kind;
    private String body;
    private String changedBy;
    private Instant changedAt;

    @Version
    private int version;

    protected LetterText() {}

    LetterText(ClinicId clinicId, LetterKind kind, String body, String who, Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.kind = kind.code();
        say(body, who, now);
    }

    final void say(String newBody, String who, Instant now) {
        body = newBody;
        changedBy = who;
        changedAt = now;
    }

    String body() {
        return body;
    }
}
