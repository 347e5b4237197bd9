package org.earslot;

import jakarta.annotation.PreDestroy;
import java.time.Duration;
import java.util.UUID;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import net.javacrumbs.shedlock.core.LockProvider;
import net.javacrumbs.shedlock.provider.jdbctemplate.JdbcTemplateLockProvider;
import net.javacrumbs.shedlock.spring.annotation.EnableSchedulerLock;
import net.javacrumbs.shedlock.support.KeepAliveLockProvider;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.PlatformTransactionManager;

/**
 * Locks for work that one server at a time may do, in the database and by its clock. A lock is extended for as long as
 * its server works, at half of the time for which it is taken, at least 30 seconds; that of a server that died expires
 * by itself.
 */
@Configuration
@EnableSchedulerLock(defaultLockAtMostFor = "PT10M")
class OneServerAtATime {

    private static final Duration PAUSE = Duration.ofSeconds(3);

    private final ScheduledExecutorService extending = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "locks");
        thread.setDaemon(true);
        return thread;
    });

    @Bean
    LockProvider lockProvider(JdbcTemplate database, PlatformTransactionManager transactions) {
        return new KeepAliveLockProvider(new RetriedExtension(locks(database, transactions), PAUSE), extending);
    }

    /** As one server takes them: two on one machine are two. */
    static JdbcTemplateLockProvider locks(JdbcTemplate database, PlatformTransactionManager transactions) {
        return new JdbcTemplateLockProvider(JdbcTemplateLockProvider.Configuration.builder()
                .withJdbcTemplate(database)
                .withTransactionManager(transactions)
                .withLockedByValue(UUID.randomUUID().toString())
                .usingDbTime()
                .build());
    }

    @PreDestroy
    void close() {
        extending.shutdownNow();
    }
}
