package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.UnknownCode;
import org.jspecify.annotations.Nullable;

/** One time that red flags were raised about a referral: open until a clinician has said what follows. */
@Entity
public class RedFlagCase {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID referralId;
    private String flags;
    private @Nullable String flagsNotKnown;
    private @Nullable String flagsUnasked;
    private @Nullable String words;
    private @Nullable UUID clinicianId;
    private Instant raisedAt;
    private String raisedBy;
    private @Nullable Instant toBeSeenAt;
    private @Nullable String settledAs;
    private @Nullable Instant settledAt;

    @Version
    private int version;

    protected RedFlagCase() {}

    RedFlagCase(Referral referral, RedFlagAnswers said, @Nullable UUID clinicianId, String who, Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = referral.clinicId();
        this.referralId = referral.id();
        this.clinicianId = clinicianId;
        this.raisedAt = now;
        this.raisedBy = who;
        hear(said);
    }

    /** Adds what is said now; a flag once raised stays, whatever is answered later. Anything new is decided again. */
    final void hear(RedFlagAnswers said) {
        boolean news = !flags().containsAll(said.raised())
                || !unknown().containsAll(said.unknown())
                || (said.words() != null && !said.words().equals(words));
        toBeSeenAt = news ? null : toBeSeenAt;
        List<UnknownCode> unclear = Stream.concat(unknown().stream(), said.unknown().stream())
                .distinct()
                .toList();
        flags = Objects.requireNonNullElse(Codes.joined(joined(flags, said.raised()), unclear), "");
        flagsNotKnown = Codes.joined(joined(flagsNotKnown, said.notKnown()));
        words = said.words() == null ? words : said.words();
    }

    private static List<RedFlag> joined(@Nullable String before, List<RedFlag> heard) {
        return Stream.concat(Codes.read(before, RedFlag::of).stream(), heard.stream())
                .distinct()
                .toList();
    }

    void name(UUID clinician) {
        clinicianId = clinician;
    }

    /** A clinician will look at the patient here; the case stays open until it is settled. */
    void seeHere(Instant now) {
        toBeSeenAt = now;
    }

    /** A clinician has said what follows, with some red flags perhaps never asked. */
    void settle(RedFlagStep.What as, RedFlagAnswers said, Instant now) {
        flagsUnasked = Codes.joined(said.unasked());
        settledAs = as.code();
        settledAt = now;
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public UUID referralId() {
        return referralId;
    }

    public List<RedFlag> flags() {
        return Codes.read(flags, RedFlag::of);
    }

    /** What was said of red flags in codes that this release does not know, with yes or not known. */
    public List<UnknownCode> unknown() {
        return Stream.concat(
                        Codes.unknown(flags, RedFlag.values()).stream(),
                        Codes.unknown(flagsNotKnown, RedFlag.values()).stream())
                .distinct()
                .toList();
    }

    /** All that was said of the list, answered with yes or not known; the most urgent first. */
    public List<RedFlag> said() {
        return Stream.concat(flags().stream(), flagsNotKnown().stream())
                .distinct()
                .sorted(Comparator.comparing(RedFlag::within).thenComparing(Comparator.naturalOrder()))
                .toList();
    }

    /** How soon it has to be decided: the soonest of its flags; own words the same day (common practice, no source). */
    public RedFlag.Within within() {
        return Stream.concat(
                        said().stream().map(RedFlag::within),
                        Optional.ofNullable(words).map(said -> RedFlag.Within.SAME_DAY).stream())
                .min(Comparator.naturalOrder())
                .orElse(RedFlag.Within.SAME_DAY);
    }

    /** Until when it has to be decided. */
    public Instant due(ZoneId zone) {
        return within().due(raisedAt, zone);
    }

    /** Asked, and could not be answered. */
    public List<RedFlag> flagsNotKnown() {
        return Codes.read(flagsNotKnown, RedFlag::of);
    }

    /** Not asked when a clinician settled it. */
    public List<RedFlag> flagsUnasked() {
        return Codes.read(flagsUnasked, RedFlag::of);
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

    /** Whether it is open, and no clinician has said yet that the patient is to be seen here. */
    public boolean undecided() {
        return open() && toBeSeenAt == null;
    }

    /** How a clinician has settled it: {@code sent_on} or {@code cleared}. */
    public Optional<String> settledAs() {
        return Optional.ofNullable(settledAs);
    }
}
