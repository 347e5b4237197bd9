package org.earslot.diary;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.ConnectionCallback;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.event.TransactionPhase;
import org.springframework.transaction.event.TransactionalEventListener;

/**
 * Carries {@link DayChanged} to the watchers of every server. On PostgreSQL by NOTIFY inside the changing transaction,
 * so that it goes out with the commit and never without; the notice holds the clinic's id and the date and nothing else.
 * On H2, which serves one server alone, by an event after the commit.
 */
@Component
class DayNotices {

    static final String CHANNEL = "earslot_day_changed";

    private static final Logger LOG = LoggerFactory.getLogger(DayNotices.class);

    private final JdbcTemplate jdbc;
    private final ObjectProvider<DayWatcher> watchers;
    private volatile @Nullable Boolean notifies;

    DayNotices(JdbcTemplate jdbc, ObjectProvider<DayWatcher> watchers) {
        this.jdbc = jdbc;
        this.watchers = watchers;
    }

    /** Whether the database carries the notices between servers. */
    boolean byDatabase() {
        Boolean known = notifies;
        if (known == null) {
            known = jdbc.execute((ConnectionCallback<Boolean>) connection ->
                    connection.getMetaData().getDatabaseProductName().equals("PostgreSQL"));
            notifies = known;
        }
        return Boolean.TRUE.equals(known);
    }

    @EventListener
    void sendWithTheCommit(DayChanged changed) {
        if (byDatabase()) {
            jdbc.query("select pg_notify(?, ?)", row -> {}, CHANNEL, written(changed));
        }
    }

    @TransactionalEventListener(phase = TransactionPhase.AFTER_COMMIT, fallbackExecution = true)
    void tellAfterTheCommit(DayChanged changed) {
        if (!byDatabase()) {
            tell(changed);
        }
    }

    /** Passes a notice of the database on; one that is not ours is left. */
    void received(String notice) {
        read(notice).ifPresent(this::tell);
    }

    /** Notices may have been lost. */
    void missedSome() {
        watchers.forEach(DayWatcher::anyDayMayHaveChanged);
    }

    private void tell(DayChanged changed) {
        for (DayWatcher watcher : watchers) {
            try {
                watcher.dayChanged(changed.clinicId(), changed.date());
            } catch (RuntimeException e) {
                // The change is kept already; a screen that was not told looks again within the minute.
                LOG.warn("A watcher of the day failed ({})", e.getClass().getSimpleName());
            }
        }
    }

    private static String written(DayChanged changed) {
        return changed.clinicId() + " " + changed.date();
    }

    static Optional<DayChanged> read(String notice) {
        List<String> parts = List.of(notice.split(" ", -1));
        try {
            return parts.size() == 2
                    ? Optional.of(new DayChanged(UUID.fromString(parts.get(0)), LocalDate.parse(parts.get(1))))
                    : Optional.empty();
        } catch (IllegalArgumentException | DateTimeParseException e) {
            return Optional.empty();
        }
    }
}
