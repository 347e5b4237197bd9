package org.earslot.day;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.earslot.booking.DayChanged;
import org.earslot.booking.DiaryChanged;
import org.earslot.clinic.ClinicId;
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
 * Carries {@link DayChanged} and {@link DiaryChanged} to the watchers of every server. On PostgreSQL by NOTIFY inside the changing transaction,
 * so that it goes out with the commit and never without; the notice holds the clinic's id and the date, or a word
 * for any date, and nothing else.
 * On H2, which serves one server alone, by an event after the commit.
 */
@Component
class DayNotices {

    static final String CHANNEL = "earslot_day_changed";
    /** Stands in a notice for every day of the clinic. */
    private static final String ANY_DAY = "any";

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
        send(changed.clinicId() + " " + changed.date());
    }

    @EventListener
    void sendWithTheCommit(DiaryChanged changed) {
        send(changed.clinicId() + " " + ANY_DAY);
    }

    @TransactionalEventListener(phase = TransactionPhase.AFTER_COMMIT, fallbackExecution = true)
    void tellAfterTheCommit(DayChanged changed) {
        if (!byDatabase()) {
            tell(watcher -> watcher.dayChanged(changed.clinicId(), changed.date()));
        }
    }

    @TransactionalEventListener(phase = TransactionPhase.AFTER_COMMIT, fallbackExecution = true)
    void tellAfterTheCommit(DiaryChanged changed) {
        if (!byDatabase()) {
            tell(watcher -> watcher.diaryChanged(changed.clinicId()));
        }
    }

    private void send(String notice) {
        if (byDatabase()) {
            jdbc.query("select pg_notify(?, ?)", row -> {}, CHANNEL, notice);
        }
    }

    /** Passes a notice of the database on; one that is not ours is left. */
    void received(String notice) {
        read(notice).ifPresent(this::tell);
    }

    /** Notices may have been lost. */
    void missedSome() {
        tell(DayWatcher::anyDayMayHaveChanged);
    }

    private void tell(Consumer<DayWatcher> what) {
        for (DayWatcher watcher : watchers) {
            try {
                what.accept(watcher);
            } catch (RuntimeException e) {
                // The change is kept already; a screen that was not told looks again within the minute.
                LOG.warn("A watcher of the day failed ({})", e.getClass().getSimpleName());
            }
        }
    }

    /** What the watchers are to be told. */
    static Optional<Consumer<DayWatcher>> read(String notice) {
        List<String> parts = List.of(notice.split(" ", -1));
        if (parts.size() != 2) {
            return Optional.empty();
        }
        try {
            ClinicId clinicId = new ClinicId(UUID.fromString(parts.get(0)));
            if (parts.get(1).equals(ANY_DAY)) {
                return Optional.of(watcher -> watcher.diaryChanged(clinicId));
            }
            LocalDate date = LocalDate.parse(parts.get(1));
            return Optional.of(watcher -> watcher.dayChanged(clinicId, date));
        } catch (IllegalArgumentException | DateTimeParseException e) {
            return Optional.empty();
        }
    }
}
