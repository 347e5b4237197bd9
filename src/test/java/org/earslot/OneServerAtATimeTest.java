package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.ArgumentMatchers.anyLong;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.verify;

import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ScheduledExecutorService;
import net.javacrumbs.shedlock.core.ClockProvider;
import net.javacrumbs.shedlock.core.LockConfiguration;
import net.javacrumbs.shedlock.core.LockProvider;
import net.javacrumbs.shedlock.core.SimpleLock;
import net.javacrumbs.shedlock.support.KeepAliveLockProvider;
import org.earslot.testing.OtherServer;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.mockito.ArgumentCaptor;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.PlatformTransactionManager;

/** Locks that several servers share, on both databases. */
class OneServerAtATimeTest {

    abstract static class Locks {

        @Autowired
        private LockProvider locks;

        @Autowired
        private JdbcTemplate database;

        @Autowired
        private PlatformTransactionManager transactions;

        private OtherServer other;
        private final String name = "work-" + UUID.randomUUID();

        @BeforeEach
        void another_server() {
            other = new OtherServer(database, transactions);
        }

        @Test
        void one_of_two_servers_works_at_a_time() {
            SimpleLock here = lock(locks).orElseThrow();
            assertThat(lock(locks)).isEmpty();
            assertThat(other.lock(name, Duration.ofMinutes(1))).isEmpty();
            here.unlock();
            SimpleLock there = other.lock(name, Duration.ofMinutes(1)).orElseThrow();
            assertThat(lock(locks)).isEmpty();
            there.unlock();
            assertThat(lock(locks)).isPresent();
        }

        @Test
        void the_lock_of_a_server_that_died_expires_and_is_not_given_back_for_another() {
            SimpleLock dead = other.lock(name, Duration.ofMillis(700)).orElseThrow();
            assertThat(lock(locks)).isEmpty();
            await().atMost(Duration.ofSeconds(20)).until(() -> lock(locks).isPresent());
            dead.unlock();
            assertThat(lock(locks)).isEmpty();
        }

        @Test
        void a_server_that_works_on_extends_its_lock() {
            ScheduledExecutorService executor = mock(ScheduledExecutorService.class);
            LockProvider kept = new KeepAliveLockProvider(OneServerAtATime.locks(database, transactions), executor);
            assertThat(locks).isInstanceOf(KeepAliveLockProvider.class);
            assertThat(lock(kept)).isPresent();
            ArgumentCaptor<Runnable> extension = ArgumentCaptor.forClass(Runnable.class);
            verify(executor).scheduleAtFixedRate(extension.capture(), anyLong(), anyLong(), any());
            database.update("update shedlock set lock_until = lock_until - interval '20' second where name = ?", name);
            double before = secondsLeft();
            extension.getValue().run();
            assertThat(secondsLeft() - before).isBetween(15.0, 21.0);
        }

        /** By the database's clock. */
        private double secondsLeft() {
            return database.queryForObject(
                    "select extract(epoch from lock_until - current_timestamp at time zone 'UTC') from shedlock where name = ?",
                    Double.class,
                    name);
        }

        private Optional<SimpleLock> lock(LockProvider provider) {
            return provider.lock(
                    new LockConfiguration(ClockProvider.now(), name, Duration.ofSeconds(30), Duration.ZERO));
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Locks {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Locks {}
}
