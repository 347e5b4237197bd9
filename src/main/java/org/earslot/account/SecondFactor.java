package org.earslot.account;

import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalLong;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A person's second factor: codes of an authenticator app, and recovery codes for the day it is lost. */
@Entity
class SecondFactor {

    private static final int RECOVERY_CODES = 8;

    @Id
    private UUID accountId;

    private ClinicId clinicId;
    private String secret;
    private @Nullable Instant confirmedAt;
    private long lastStep;

    @ElementCollection
    @CollectionTable(name = "recovery_code", joinColumns = @JoinColumn(name = "account_id"))
    @Column(name = "code_hash")
    private Set<String> recoveryHashes = new HashSet<>();

    protected SecondFactor() {}

    /** Begins one that counts for nothing until it is confirmed. */
    SecondFactor(SignedInUser.Person person) {
        this.accountId = person.accountId();
        this.clinicId = person.clinicId();
        this.secret = Totp.newSecret();
        this.lastStep = -1;
    }

    /** The secret, to be shown once; another with each call, as long as none is confirmed. */
    String renewedSecret() {
        if (confirmed()) {
            throw new IllegalStateException("a confirmed secret is not shown again");
        }
        secret = Totp.newSecret();
        return secret;
    }

    /** Counts from now on, if {@code code} shows that the app has the secret; answers new recovery codes. */
    List<Secret> confirm(String code, Instant now) {
        if (confirmed() || !takesStep(code, now)) {
            return List.of();
        }
        confirmedAt = now;
        List<Secret> codes = Stream.generate(Secret::code).limit(RECOVERY_CODES).toList();
        codes.forEach(one -> recoveryHashes.add(one.hash()));
        return codes;
    }

    /** What was given. */
    enum Given {
        CODE,
        RECOVERY_CODE,
        WRONG
    }

    /** Takes a code of the app or a recovery code, each once. */
    Given take(String given, Instant now) {
        if (!confirmed()) {
            return Given.WRONG;
        }
        if (takesStep(given, now)) {
            return Given.CODE;
        }
        boolean recovers = recoveryHashes.remove(new Secret(given.strip().toLowerCase(java.util.Locale.ROOT)).hash());
        return recovers ? Given.RECOVERY_CODE : Given.WRONG;
    }

    private boolean takesStep(String code, Instant now) {
        OptionalLong step = Totp.step(secret, code, now, lastStep);
        step.ifPresent(taken -> lastStep = taken);
        return step.isPresent();
    }

    boolean confirmed() {
        return confirmedAt != null;
    }

    int recoveryCodesLeft() {
        return recoveryHashes.size();
    }
}
