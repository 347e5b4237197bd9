package org.earslot.account;

import java.time.Duration;
import java.util.Arrays;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.earslot.page.Busy;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.crypto.argon2.Argon2PasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Component;

/** Hashes passwords by argon2id, only a few at once, so that a flood of sign-ins cannot take all memory. */
@Component
class Passwords {

    private static final Duration RETRY_AFTER = Duration.ofSeconds(3);

    private final PasswordEncoder argon2;
    private final Semaphore turns;
    private final Semaphore[] turnsByAddress = new Semaphore[64];
    private final Duration wait;
    private final String nobodysHash;

    @Autowired
    Passwords(SignInLimits limits) {
        // OWASP Password Storage Cheat Sheet: argon2id, 19 MiB, 2 passes, 1 lane (from memory).
        this(limits, new Argon2PasswordEncoder(16, 32, 1, 19 * 1024, 2));
    }

    Passwords(SignInLimits limits, PasswordEncoder argon2) {
        this.argon2 = argon2;
        this.turns = new Semaphore(limits.hashesAtOnce(), true);
        Arrays.setAll(turnsByAddress, i -> new Semaphore(1, true));
        this.wait = limits.hashWait();
        this.nobodysHash = argon2.encode(Secret.code().shown());
    }

    /** @throws Busy if no turn comes up in time */
    String hash(String password) {
        return inTurn(() -> argon2.encode(password));
    }

    /** @throws Busy if no turn comes up in time */
    boolean matches(String password, String hash) {
        return inTurn(() -> argon2.matches(password, hash));
    }

    /**
     * Whoever asks from one address waits in a line of its own for the common one, so that a crowd from one address
     * keeps nobody elsewhere waiting.
     *
     * @throws Busy if no turn comes up in time
     */
    boolean matches(String password, String hash, String address) {
        Semaphore line = turnsByAddress[Math.floorMod(address.hashCode(), turnsByAddress.length)];
        return inTurn(line, () -> matches(password, hash));
    }

    /** Takes as long as a comparison, for a name that nobody has. */
    void matchNobody(String password, String address) {
        matches(password, nobodysHash, address);
    }

    private <T> T inTurn(Supplier<T> work) {
        return inTurn(turns, work);
    }

    private <T> T inTurn(Semaphore line, Supplier<T> work) {
        boolean myTurn;
        try {
            myTurn = line.tryAcquire(wait.toMillis(), TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            myTurn = false;
        }
        if (!myTurn) {
            throw new Busy("account.busy", RETRY_AFTER);
        }
        try {
            return work.get();
        } finally {
            line.release();
        }
    }
}
