package org.earslot.testing;

import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import net.javacrumbs.shedlock.core.ClockProvider;
import net.javacrumbs.shedlock.core.LockConfiguration;
import net.javacrumbs.shedlock.core.SimpleLock;
import net.javacrumbs.shedlock.provider.jdbctemplate.JdbcTemplateLockProvider;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.PlatformTransactionManager;

/** Another server on the same database, which takes locks and extends none: as if it died with each. */
public final class OtherServer {

    private final JdbcTemplateLockProvider locks;

    public OtherServer(JdbcTemplate database, PlatformTransactionManager transactions) {
        locks = new JdbcTemplateLockProvider(JdbcTemplateLockProvider.Configuration.builder()
                .withJdbcTemplate(database)
                .withTransactionManager(transactions)
                .withLockedByValue(UUID.randomUUID().toString())
                .usingDbTime()
                .build());
    }

    public Optional<SimpleLock> lock(String name, Duration atMost) {
        return locks.lock(new LockConfiguration(ClockProvider.now(), name, atMost, Duration.ZERO));
    }
}
