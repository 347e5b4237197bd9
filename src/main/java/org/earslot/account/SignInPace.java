package org.earslot.account;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import org.springframework.stereotype.Component;

/**
 * Slows down whoever sends wrong passwords or keys, by the name tried and the address it comes from, so that nobody can
 * lock another person out by that person's name: from elsewhere the right password is taken as before. Each address has
 * a budget besides, spent before anything costly is computed; a name that has signed in from there lately needs none of
 * it. Held in memory: a restart begins with a clean sheet, and several servers count each for itself.
 */
@Component
class SignInPace {

    /** Of names at their addresses, and of addresses. */
    static final int MAXIMUM_SIZE = 20_000;

    private static final Duration LATELY = Duration.ofDays(30);
    private static final Duration FORGOTTEN = Duration.ofHours(1);

    private final SignInLimits limits;
    private final Clock clock;
    private final Cache<Pair, Record> pairs = bounded();
    private final Cache<String, Budget> budgets = bounded();

    SignInPace(SignInLimits limits, Clock clock) {
        this.limits = limits;
        this.clock = clock;
    }

    private record Pair(String name, String address) {}

    /** What is known of a name tried from an address; {@code knownUntil} is past if it never signed in. */
    private record Record(int failures, Instant lastFailure, Instant next, Instant knownUntil) {

        static final Record NONE = new Record(0, Instant.EPOCH, Instant.EPOCH, Instant.EPOCH);

        boolean known(Instant now) {
            return now.isBefore(knownUntil);
        }
    }

    /** Wrong ones that an address may still send. */
    private record Budget(double left, Instant at) {}

    /** Whether the name may be tried from the address now; an attempt that is allowed must be reported on. */
    synchronized boolean allows(String name, String address) {
        Instant now = clock.instant();
        Record record = record(new Pair(name, address));
        if (now.isBefore(record.next())) {
            return false;
        }
        double left = left(address, now);
        if (record.known(now)) {
            return true;
        }
        if (left < 1) {
            return false;
        }
        budgets.put(address, new Budget(left - 1, now));
        return true;
    }

    /** A wrong attempt; answers whether the name must wait from there now. */
    synchronized boolean failed(String name, String address) {
        Instant now = clock.instant();
        Pair pair = new Pair(name, address);
        Record record = record(pair);
        boolean longAgo = now.isAfter(record.lastFailure().plus(FORGOTTEN));
        int failures = longAgo ? 1 : record.failures() + 1;
        boolean waits = failures >= limits.attempts();
        Instant next = waits ? now.plus(wait(failures - limits.attempts())) : Instant.EPOCH;
        pairs.put(pair, new Record(failures, now, next, record.knownUntil()));
        return waits;
    }

    /** A right attempt: it costs nothing, and what was wrong before is forgotten. */
    synchronized void succeeded(String name, String address) {
        Instant now = clock.instant();
        Pair pair = new Pair(name, address);
        if (!record(pair).known(now)) {
            budgets.put(address, new Budget(Math.min(limits.perAddress(), left(address, now) + 1), now));
        }
        pairs.put(pair, new Record(0, Instant.EPOCH, Instant.EPOCH, now.plus(LATELY)));
    }

    private Record record(Pair pair) {
        Record known = pairs.getIfPresent(pair);
        return known == null ? Record.NONE : known;
    }

    private Duration wait(int doublings) {
        Duration wait = limits.firstWait().multipliedBy(1L << Math.min(doublings, 20));
        return wait.compareTo(limits.longestWait()) > 0 ? limits.longestWait() : wait;
    }

    private double left(String address, Instant now) {
        Budget budget = budgets.getIfPresent(address);
        if (budget == null) {
            return limits.perAddress();
        }
        double refilled = (double) Duration.between(budget.at(), now).toMillis()
                / limits.addressRefill().toMillis();
        return Math.min(limits.perAddress(), budget.left() + Math.max(0, refilled));
    }

    private static <K, V> Cache<K, V> bounded() {
        return Caffeine.newBuilder()
                .maximumSize(MAXIMUM_SIZE)
                .executor(Runnable::run)
                .build();
    }
}
