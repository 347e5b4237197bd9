package org.earslot.estimate;

import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.estimate.FitProgress.Stage;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Whose turn it is to fit. One row a clinic, taken by an update that only one server's can hit; a turn not renewed
 * for {@link #HELD} expires, so that a server that died holds up nothing.
 */
@Component
@Transactional(propagation = Propagation.NOT_SUPPORTED)
class FitLease {

    static final Duration HELD = Duration.ofMinutes(5);

    private final JdbcTemplate jdbc;
    private final ClinicClock clock;

    FitLease(JdbcTemplate jdbc, ClinicClock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Takes the turn; false where somebody else has it. */
    public boolean take(UUID clinicId, UUID holder) {
        ensureRow(clinicId);
        return jdbc.update(
                        """
                        update estimator_run set holder = ?, held_until = ?, stage = ?, done = 0, total = 0, failure = null
                        where clinic_id = ? and (holder is null or held_until < ?)
                        """,
                        holder.toString(),
                        clock.now().plus(HELD).atOffset(ZoneOffset.UTC),
                        Stage.READING.name(),
                        clinicId,
                        clock.now().atOffset(ZoneOffset.UTC))
                == 1;
    }

    /** Says how far the holder is, and holds the turn on. */
    public void report(UUID clinicId, UUID holder, FitProgress progress) {
        jdbc.update(
                "update estimator_run set held_until = ?, stage = ?, done = ?, total = ? where clinic_id = ? and holder = ?",
                clock.now().plus(HELD).atOffset(ZoneOffset.UTC),
                progress.stage().name(),
                progress.done(),
                progress.total(),
                clinicId,
                holder.toString());
    }

    /** Gives the turn back; with the reference of the failure where there was one. */
    public void end(UUID clinicId, UUID holder, Optional<String> failure) {
        jdbc.update(
                "update estimator_run set holder = null, held_until = null, stage = null, failure = ? where clinic_id = ? and holder = ?",
                failure.orElse(null),
                clinicId,
                holder.toString());
    }

    /** How far the fit under way is, if one is. */
    public Optional<FitProgress> underWay(UUID clinicId) {
        List<FitProgress> found = jdbc.query(
                "select stage, done, total from estimator_run where clinic_id = ? and holder is not null and held_until >= ?",
                (row, index) -> new FitProgress(
                        Stage.valueOf(row.getString("stage")), row.getLong("done"), row.getLong("total")),
                clinicId,
                clock.now().atOffset(ZoneOffset.UTC));
        return found.stream().findFirst();
    }

    /** The reference of the last fit's failure, if it failed. */
    public Optional<String> lastFailure(UUID clinicId) {
        return jdbc
                .queryForList("select failure from estimator_run where clinic_id = ?", String.class, clinicId)
                .stream()
                .filter(failure -> failure != null)
                .findFirst();
    }

    /** Claims the fit of this night; true for one server only. */
    public boolean claimNight(UUID clinicId, LocalDate night) {
        ensureRow(clinicId);
        return jdbc.update(
                        "update estimator_run set last_night = ? where clinic_id = ? and (last_night is null or last_night < ?)",
                        night,
                        clinicId,
                        night)
                == 1;
    }

    private void ensureRow(UUID clinicId) {
        try {
            jdbc.update("""
                    insert into estimator_run (clinic_id, done, total)
                    select c.id, 0, 0 from clinic c
                    where c.id = ? and not exists (select 1 from estimator_run r where r.clinic_id = c.id)
                    """, clinicId);
        } catch (DuplicateKeyException e) {
            // Another server put the row there at the same moment; that is as good.
        }
    }
}
