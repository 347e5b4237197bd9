package org.earslot.account;

import java.time.Duration;

/** Limits of signing in for tests without an application. */
final class Limits {

    private Limits() {}

    static SignInLimits hashing(int atOnce, Duration wait) {
        return new SignInLimits(
                5,
                Duration.ofSeconds(5),
                Duration.ofMinutes(5),
                50,
                Duration.ofSeconds(5),
                atOnce,
                wait,
                Duration.ofHours(12),
                Duration.ofHours(4),
                Duration.ofMinutes(45),
                Duration.ofDays(3));
    }
}
