package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.earslot.caution.Mark;
import org.earslot.clinic.ClinicId;

/** A clinic's own words for one red flag, in place of the default. */
@Entity
class RedFlagGuidance {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String flag;
    private String ask;
    private String sendsTo;
    private String source;
    private String mark;
    private String changedBy;
    private Instant changedAt;

    @Version
    private int version;

    protected RedFlagGuidance() {}

    RedFlagGuidance(ClinicId clinicId, RedFlagText text, String who, Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.flag = text.flag().code();
        say(text, who, now);
    }

    final void say(RedFlagText text, String who, Instant now) {
        ask = text.ask();
        sendsTo = text.sendsTo();
        source = text.source();
        mark = text.mark().code();
        changedBy = who;
        changedAt = now;
    }

    RedFlagText text() {
        return new RedFlagText(
                RedFlag.of(flag).orElseThrow(),
                ask,
                sendsTo,
                source,
                Mark.of(mark).orElseThrow());
    }
}
