package org.earslot;

import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import net.javacrumbs.shedlock.core.ExtensibleLockProvider;
import net.javacrumbs.shedlock.core.LockConfiguration;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.dao.DataAccessException;

/**
 * Locks whose extension is tried again if the database does not answer. A lock that could not be extended counts as held,
 * so that its next extension is tried too: only the database says that it is lost.
 *
 * @param pause between two tries
 */
record RetriedExtension(ExtensibleLockProvider locks, Duration pause) implements ExtensibleLockProvider {

    static final int TRIES = 3;

    private static final Logger LOG = LoggerFactory.getLogger(RetriedExtension.class);

    @Override
    public Optional<SimpleLock> lock(LockConfiguration wanted) {
        return locks.lock(wanted).map(lock -> new Held(lock, wanted.getName(), pause));
    }

    private record Held(SimpleLock lock, String name, Duration pause) implements SimpleLock {

        @Override
        public void unlock() {
            lock.unlock();
        }

        @Override
        public Optional<SimpleLock> extend(Duration atMost, Duration atLeast) {
            for (int left = TRIES; left > 0; left--) {
                try {
                    return lock.extend(atMost, atLeast).map(extended -> new Held(extended, name, pause));
                } catch (DataAccessException e) {
                    LOG.warn(
                            "The lock {} could not be extended ({})",
                            name,
                            e.getClass().getSimpleName());
                    if (left > 1) {
                        LockSupport.parkNanos(pause.toNanos());
                    }
                }
            }
            return Optional.of(this);
        }
    }
}
