package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** One time that red flags were raised about a referral: open until a clinician has said what follows. */
@Entity
public class RedFlagCase {

    @Id
    private UUID id;

    private UUID clinicId;
    private UUID referralId;
    private String flags;
    private @Nullable String words;
    private @Nullable UUID clinicianId;
    private Instant raisedAt;
    private String raisedBy;
    private @Nullable String settledAs;
    private @Nullable Instant settledAt;

    @Version
    private int version;

    protected RedFlagCase() {}

    RedFlagCase(Referral referral, @Nullable UUID clinicianId, String who, Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = referral.clinicId();
        this.referralId = referral.id();
        this.clinicianId = clinicianId;
        this.raisedAt = now;
        this.raisedBy = who;
        hear(referral.details());
    }

    /** Takes over what is said now; a flag once raised stays, whatever is answered later. */
    final void hear(ReferralDetails said) {
        List<RedFlag> heard = said.redFlagsRaised();
        List<RedFlag> before = flags == null ? List.of() : flags();
        flags = Objects.requireNonNullElse(
                Codes.joined(Stream.concat(before.stream(), heard.stream())
                        .distinct()
                        .toList()),
                "");
        words = said.redFlag() == null ? words : said.redFlag();
    }

    /** Whether it holds everything that is raised now. */
    boolean covers(ReferralDetails said) {
        return flags().containsAll(said.redFlagsRaised())
                && (said.redFlag() == null || said.redFlag().equals(words));
    }

    void name(UUID clinician) {
        clinicianId = clinician;
    }

    void settle(RedFlagStep.What as, Instant now) {
        settledAs = as.code();
        settledAt = now;
    }

    public UUID id() {
        return id;
    }

    public UUID referralId() {
        return referralId;
    }

    public List<RedFlag> flags() {
        return Codes.read(flags, RedFlag::of);
    }

    /** What was said of it in own words. */
    public Optional<String> words() {
        return Optional.ofNullable(words);
    }

    /** The clinician it goes to; empty until one is named. */
    public Optional<UUID> clinicianId() {
        return Optional.ofNullable(clinicianId);
    }

    public Instant raisedAt() {
        return raisedAt;
    }

    public String raisedBy() {
        return raisedBy;
    }

    public boolean open() {
        return settledAt == null;
    }

    /** How a clinician has settled it: {@code sent_on} or {@code cleared}. */
    public Optional<String> settledAs() {
        return Optional.ofNullable(settledAs);
    }
}
