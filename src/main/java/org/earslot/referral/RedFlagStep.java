package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** What somebody did about a red flag. */
@Entity
public class RedFlagStep {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID caseId;
    private Instant at;
    private String who;
    private String step;
    private @Nullable String words;

    protected RedFlagStep() {}

    RedFlagStep(ClinicId clinicId, UUID caseId, What what, @Nullable String words, String who, Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.caseId = caseId;
        this.step = what.code();
        this.words = words;
        this.who = who;
        this.at = at;
    }

    /** What can be done; the last three are for clinicians, the last two settle it. */
    public enum What implements Word {
        RAISED("raised"),
        NAMED("named"),
        TOLD("told"),
        /** Nobody could be reached: what the table says is done without waiting. */
        NOT_REACHED("not_reached"),
        /** A clinician will look here; the case stays open. */
        SEE_HERE("see_here"),
        SENT_ON("sent_on"),
        CLEARED("cleared");

        private final String code;

        What(String code) {
            this.code = code;
        }

        @Override
        public String code() {
            return code;
        }
    }

    public Instant at() {
        return at;
    }

    public String who() {
        return who;
    }

    public String what() {
        return step;
    }

    public Optional<String> words() {
        return Optional.ofNullable(words);
    }
}
