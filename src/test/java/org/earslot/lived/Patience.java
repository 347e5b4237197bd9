package org.earslot.lived;

import java.net.ConnectException;
import java.time.Duration;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;

/** Waits for what another process does by itself. */
final class Patience {

    private static final long BETWEEN_LOOKS_MILLIS = 200;

    private Patience() {}

    /** Looks until it is so; fails after {@code longest}. A connection that is refused counts as not yet. */
    static void until(String what, Duration longest, Callable<Boolean> look) {
        long end = System.nanoTime() + longest.toNanos();
        while (System.nanoTime() < end) {
            try {
                if (look.call()) {
                    return;
                }
            } catch (ConnectException e) {
                // Not yet.
            } catch (RuntimeException e) {
                throw e;
            } catch (Exception e) {
                throw new IllegalStateException("waiting until " + what, e);
            }
            CompletableFuture.runAsync(
                            () -> {}, CompletableFuture.delayedExecutor(BETWEEN_LOOKS_MILLIS, TimeUnit.MILLISECONDS))
                    .join();
        }
        throw new AssertionError("waited " + longest + " in vain until " + what);
    }
}
