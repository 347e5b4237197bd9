package org.earslot.estimate;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import net.javacrumbs.shedlock.core.ClockProvider;
import net.javacrumbs.shedlock.core.LockConfiguration;
import net.javacrumbs.shedlock.core.LockProvider;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.FitProgress.Stage;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * The run of a clinic's fit, one a clinic however many servers run: how far it is, how the last one ended, and the night
 * last fitted. A run whose server died is over when its lock has expired, after {@link #LOCKED}.
 */
@Component
@Transactional(propagation = Propagation.NOT_SUPPORTED)
class FitRuns {

    static final Duration LOCKED = Duration.ofMinutes(5);

    private final JdbcTemplate jdbc;
    private final LockProvider locks;

    FitRuns(JdbcTemplate jdbc, LockProvider locks) {
        this.jdbc = jdbc;
        this.locks = locks;
    }

    /** Begins a run, to be ended by {@link #end}; empty where one is under way. */
    public Optional<SimpleLock> begin(ClinicId clinicId) {
        Optional<SimpleLock> lock =
                locks.lock(new LockConfiguration(ClockProvider.now(), lockName(clinicId), LOCKED, Duration.ZERO));
        if (lock.isPresent()) {
            try {
                started(clinicId);
            } catch (RuntimeException e) {
                lock.get().unlock();
                throw e;
            }
        }
        return lock;
    }

    private void started(ClinicId clinicId) {
        ensureRow(clinicId);
        jdbc.update(
                "update estimator_run set stage = ?, done = 0, total = 0, failure = null where clinic_id = ?",
                Stage.READING.name(),
                clinicId.value());
    }

    static String lockName(ClinicId clinicId) {
        return "fit-" + clinicId;
    }

    /** Says how far the run is. */
    public void report(ClinicId clinicId, FitProgress progress) {
        jdbc.update(
                "update estimator_run set stage = ?, done = ?, total = ? where clinic_id = ?",
                progress.stage().name(),
                progress.done(),
                progress.total(),
                clinicId.value());
    }

    /** Ends the run; with the reference of the failure where there was one. */
    public void end(ClinicId clinicId, SimpleLock lock, Optional<String> failure) {
        try {
            jdbc.update(
                    "update estimator_run set stage = null, failure = ? where clinic_id = ?",
                    failure.orElse(null),
                    clinicId.value());
        } finally {
            lock.unlock();
        }
    }

    /** How far the run under way is, if one is. */
    public Optional<FitProgress> underWay(ClinicId clinicId) {
        // The lock's time is in UTC on PostgreSQL and has an offset on H2; this compares with either.
        List<FitProgress> found = jdbc.query(
                "select run.stage, run.done, run.total from estimator_run run"
                        + " join shedlock on shedlock.name = ? and lock_until > current_timestamp at time zone 'UTC'"
                        + " where run.clinic_id = ? and run.stage is not null",
                (row, index) -> new FitProgress(
                        Stage.valueOf(row.getString("stage")), row.getLong("done"), row.getLong("total")),
                lockName(clinicId),
                clinicId.value());
        return found.stream().findFirst();
    }

    /** The reference of the last run's failure, if it failed. */
    public Optional<String> lastFailure(ClinicId clinicId) {
        return jdbc
                .queryForList("select failure from estimator_run where clinic_id = ?", String.class, clinicId.value())
                .stream()
                .filter(Objects::nonNull)
                .findFirst();
    }

    /** Claims the fit of this night; true for one server only. */
    public boolean claimNight(ClinicId clinicId, LocalDate night) {
        ensureRow(clinicId);
        return jdbc.update(
                        "update estimator_run set last_night = ? where clinic_id = ? and (last_night is null or last_night < ?)",
                        night,
                        clinicId.value(),
                        night)
                == 1;
    }

    private void ensureRow(ClinicId clinicId) {
        try {
            jdbc.update("""
                    insert into estimator_run (clinic_id, done, total)
                    select c.id, 0, 0 from clinic c
                    where c.id = ? and not exists (select 1 from estimator_run r where r.clinic_id = c.id)
                    """, clinicId.value());
        } catch (DuplicateKeyException e) {
            // Another server put the row there at the same moment; that is as good.
        }
    }
}
