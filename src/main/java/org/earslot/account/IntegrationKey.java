package org.earslot.account;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A program's way in: its name and the SHA-256 of its key. */
@Entity
public class IntegrationKey {

    @Id
    private UUID id;

    private UUID clinicId;
    private String name;
    private String keyHash;
    private Instant createdAt;
    private @Nullable Instant withdrawnAt;

    protected IntegrationKey() {}

    IntegrationKey(UUID id, UUID clinicId, String name, String keyHash, Instant createdAt) {
        this.id = id;
        this.clinicId = clinicId;
        this.name = name;
        this.keyHash = keyHash;
        this.createdAt = createdAt;
    }

    /** Accepts the key no more. */
    void withdraw(Instant now) {
        if (withdrawnAt == null) {
            withdrawnAt = now;
        }
    }

    /** Whether {@code hash} is that of the key and the key still counts; takes as long whichever character differs. */
    boolean accepts(String hash) {
        boolean same = MessageDigest.isEqual(
                hash.getBytes(StandardCharsets.US_ASCII), keyHash.getBytes(StandardCharsets.US_ASCII));
        return same && withdrawnAt == null;
    }

    /** Whoever asks with this key. */
    Asker.Program program() {
        return new Asker.Program(clinicId, name);
    }

    public UUID id() {
        return id;
    }

    public UUID clinicId() {
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
