package org.earslot.unchanged;

import java.time.Duration;
import java.util.Arrays;
import java.util.concurrent.locks.LockSupport;

/** Waits until no thread but this one is at work for the program. */
final class Quiet {

    private static final Duration BETWEEN_LOOKS = Duration.ofMillis(100);
    private static final int LOOKS = 3;

    private Quiet() {}

    /** Looks until nothing was at work so many times in a row. */
    static void await() {
        int quiet = 0;
        while (quiet < LOOKS) {
            LockSupport.parkNanos(BETWEEN_LOOKS.toNanos());
            quiet = atWork() ? 0 : quiet + 1;
        }
    }

    private static boolean atWork() {
        return Thread.getAllStackTraces().entrySet().stream()
                .filter(thread -> thread.getKey() != Thread.currentThread())
                .flatMap(thread -> Arrays.stream(thread.getValue()))
                .anyMatch(frame -> frame.getClassName().startsWith("org.earslot."));
    }
}
