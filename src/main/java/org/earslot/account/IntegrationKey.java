package org.earslot.account;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A program's way in: its name and the SHA-256 of its key. */
@Entity
public class IntegrationKey {

    private static final Duration NOTED_EVERY = Duration.ofHours(1);

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private String keyHash;
    private Instant createdAt;
    private @Nullable Instant withdrawnAt;
    private boolean mayWrite = true;
    private @Nullable Instant expiresAt;
    private @Nullable Instant lastUsedAt;

    protected IntegrationKey() {}

    IntegrationKey(UUID id, ClinicId clinicId, String name, String keyHash, Instant createdAt) {
        this.id = id;
        this.clinicId = clinicId;
        this.name = name;
        this.keyHash = keyHash;
        this.createdAt = createdAt;
    }

    /** A key with which nothing can be changed unless {@code mayWrite}, and which no longer counts from {@code end} on. */
    IntegrationKey limitedTo(boolean mayWrite, @Nullable Instant end) {
        this.mayWrite = mayWrite;
        this.expiresAt = end;
        return this;
    }

    /** Notes a use; answers whether that is news: one within an hour of the last is none. */
    boolean used(Instant now) {
        if (lastUsedAt != null && now.isBefore(lastUsedAt.plus(NOTED_EVERY))) {
            return false;
        }
        lastUsedAt = now;
        return true;
    }

    /** Accepts the key no more. */
    void withdraw(Instant now) {
        if (withdrawnAt == null) {
            withdrawnAt = now;
        }
    }

    /** Whether {@code hash} is that of the key and the key still counts; takes as long whichever character differs. */
    boolean accepts(String hash, Instant now) {
        boolean same = MessageDigest.isEqual(
                hash.getBytes(StandardCharsets.US_ASCII), keyHash.getBytes(StandardCharsets.US_ASCII));
        return same && withdrawnAt == null && !expired(now);
    }

    /** Whoever asks with this key. */
    SignedInUser.Program program() {
        return new SignedInUser.Program(clinicId, name, mayWrite);
    }

    /** Whether it has come to its end. */
    public boolean expired(Instant now) {
        return expiresAt != null && !now.isBefore(expiresAt);
    }

    public boolean mayWrite() {
        return mayWrite;
    }

    public Optional<Instant> expiresAt() {
        return Optional.ofNullable(expiresAt);
    }

    public Optional<Instant> lastUsedAt() {
        return Optional.ofNullable(lastUsedAt);
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public String name() {
        return name;
    }

    public Instant createdAt() {
        return createdAt;
    }

    public Optional<Instant> withdrawnAt() {
        return Optional.ofNullable(withdrawnAt);
    }
}
