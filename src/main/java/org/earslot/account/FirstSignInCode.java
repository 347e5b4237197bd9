package org.earslot.account;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** The code that lets the very first person in, once. */
@Entity
class FirstSignInCode {

    @Id
    private UUID id;

    private String codeHash;
    private Instant createdAt;
    private @Nullable Instant usedAt;

    protected FirstSignInCode() {}

    FirstSignInCode(UUID id, Secret code, Instant createdAt) {
        this.id = id;
        this.codeHash = code.hash();
        this.createdAt = createdAt;
    }

    /** Uses the code up if it is {@code given}; answers whether it was, and was still of use. */
    boolean take(Secret given, Instant now) {
        boolean same = MessageDigest.isEqual(
                given.hash().getBytes(StandardCharsets.US_ASCII), codeHash.getBytes(StandardCharsets.US_ASCII));
        if (!same || usedAt != null) {
            return false;
        }
        usedAt = now;
        return true;
    }
}
