package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.times;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import net.javacrumbs.shedlock.core.ExtensibleLockProvider;
import net.javacrumbs.shedlock.core.LockConfiguration;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.junit.jupiter.api.Test;
import org.springframework.dao.TransientDataAccessResourceException;

/** A database that does not answer for a while ends no extension; one that says the lock is lost does. */
class RetriedExtensionTest {

    private static final Duration MINUTE = Duration.ofMinutes(1);
    private static final LockConfiguration WANTED = new LockConfiguration(Instant.EPOCH, "fit", MINUTE, Duration.ZERO);

    private final SimpleLock inner = mock(SimpleLock.class);
    private final ExtensibleLockProvider locks = mock(ExtensibleLockProvider.class);
    private final SimpleLock lock = held();

    private SimpleLock held() {
        when(locks.lock(any())).thenReturn(Optional.of(inner));
        return new RetriedExtension(locks, Duration.ZERO).lock(WANTED).orElseThrow();
    }

    @Test
    void tries_again_after_a_failure() {
        when(inner.extend(any(), any()))
                .thenThrow(new TransientDataAccessResourceException("no connection"))
                .thenReturn(Optional.of(inner));
        assertThat(lock.extend(MINUTE, Duration.ZERO)).isPresent();
        verify(inner, times(2)).extend(MINUTE, Duration.ZERO);
    }

    @Test
    void counts_as_held_while_the_database_does_not_answer() {
        when(inner.extend(any(), any())).thenThrow(new TransientDataAccessResourceException("no connection"));
        Optional<SimpleLock> still = lock.extend(MINUTE, Duration.ZERO);
        verify(inner, times(RetriedExtension.TRIES)).extend(MINUTE, Duration.ZERO);
        still.orElseThrow().unlock();
        verify(inner).unlock();
    }

    @Test
    void is_lost_when_the_database_says_so() {
        when(inner.extend(any(), any())).thenReturn(Optional.empty());
        assertThat(lock.extend(MINUTE, Duration.ZERO)).isEmpty();
    }
}
