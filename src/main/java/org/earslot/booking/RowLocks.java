package org.earslot.booking;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.ConnectionCallback;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * The rows that whoever changes the diary holds until the end of the transaction, always in this order: the referral,
 * the days by date, the appointment. The fixed order prevents deadlock.
 */
@Component
public class RowLocks {

    private static final String HOLD_DAY =
            "select closed_at from clinic_day where clinic_id = ? and day_date = ? for update";

    private final JdbcTemplate jdbc;
    private volatile @Nullable Boolean ignoresConflicts;

    RowLocks(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    /** What an appointment's row says, read without holding it. */
    public record LockKeys(@Nullable UUID referralId, LocalDate date) {

        private static LockKeys of(ResultSet row, int number) throws SQLException {
            return new LockKeys(row.getObject(1, UUID.class), row.getObject(2, LocalDate.class));
        }
    }

    /** The referral and the day of an appointment now, so that the rows above it can be held first. */
    public Optional<LockKeys> keysOf(ClinicId clinicId, UUID appointmentId) {
        return jdbc
                .query(
                        "select referral_id, clinic_date from appointment where clinic_id = ? and id = ?",
                        LockKeys::of,
                        clinicId.value(),
                        appointmentId)
                .stream()
                .findFirst();
    }

    @Transactional(propagation = Propagation.MANDATORY)
    public void holdReferral(ClinicId clinicId, @Nullable UUID referralId) {
        if (referralId != null) {
            jdbc.queryForList(
                    "select id from referral where clinic_id = ? and id = ? for update", clinicId.value(), referralId);
        }
    }

    /** Holds the days, made where they are not there yet; answers the closed ones. */
    @Transactional(propagation = Propagation.MANDATORY)
    public List<LocalDate> holdDays(ClinicId clinicId, Collection<LocalDate> dates) {
        return new TreeSet<>(dates)
                .stream().filter(date -> holdDay(clinicId, date)).toList();
    }

    /** Whether the day is closed; read without holding it. */
    public boolean isClosed(ClinicId clinicId, LocalDate date) {
        return jdbc.query(
                        "select closed_at from clinic_day where clinic_id = ? and day_date = ?",
                        (row, number) -> row.getTimestamp(1) != null,
                        clinicId.value(),
                        date)
                .contains(true);
    }

    /** The closed days among those, read without holding them. */
    public Set<LocalDate> closed(ClinicId clinicId, LocalDate first, LocalDate last) {
        return Set.copyOf(jdbc.queryForList("""
                select day_date from clinic_day
                where clinic_id = ? and day_date between ? and ? and closed_at is not null
                """, LocalDate.class, clinicId.value(), first, last));
    }

    @Transactional(propagation = Propagation.MANDATORY)
    public void holdAppointment(ClinicId clinicId, UUID appointmentId) {
        jdbc.queryForList(
                "select id from appointment where clinic_id = ? and id = ? for update",
                clinicId.value(),
                appointmentId);
    }

    private boolean holdDay(ClinicId clinicId, LocalDate date) {
        List<Boolean> closed = readDay(clinicId, date);
        if (closed.isEmpty()) {
            insertIfAbsent(clinicId, date);
            closed = readDay(clinicId, date);
        }
        return closed.get(0);
    }

    private List<Boolean> readDay(ClinicId clinicId, LocalDate date) {
        return jdbc.query(HOLD_DAY, (row, number) -> row.getTimestamp(1) != null, clinicId.value(), date);
    }

    /** PostgreSQL would end the transaction on a doubled key, H2 knows no conflict clause: so one way for each. */
    private void insertIfAbsent(ClinicId clinicId, LocalDate date) {
        String insert = "insert into clinic_day (clinic_id, day_date) values (?, ?)";
        if (ignoresConflicts()) {
            jdbc.update(insert + " on conflict do nothing", clinicId.value(), date);
            return;
        }
        try {
            jdbc.update(insert, clinicId.value(), date);
        } catch (DuplicateKeyException e) {
            // Someone else was first; H2 takes back the statement alone, and the row is there to be held.
        }
    }

    private boolean ignoresConflicts() {
        Boolean known = ignoresConflicts;
        if (known == null) {
            known = jdbc.execute((ConnectionCallback<Boolean>) connection ->
                    connection.getMetaData().getDatabaseProductName().equals("PostgreSQL"));
            ignoresConflicts = known;
        }
        return Boolean.TRUE.equals(known);
    }
}
