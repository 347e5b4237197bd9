package org.earslot.day;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** The presses that brought a key, so that each counts once. */
@Component
class IdempotencyKeys {

    private final JdbcTemplate jdbc;

    IdempotencyKeys(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    /** What was pressed. */
    record Pressed(UUID appointmentId, String event) {

        boolean is(ClockCommand press) {
            return appointmentId.equals(press.appointmentId())
                    && event.equals(press.event().code());
        }
    }

    /** The press of that key, if it has come already. */
    Optional<Pressed> find(ClinicId clinicId, UUID key) {
        return jdbc
                .query(
                        "select appointment_id, event from press where clinic_id = ? and press_key = ?",
                        (row, number) -> new Pressed(row.getObject(1, UUID.class), row.getString(2)),
                        clinicId.value(),
                        key)
                .stream()
                .findFirst();
    }

    @Transactional(propagation = Propagation.MANDATORY)
    void store(ClinicId clinicId, ClockCommand press, Instant made, Instant received, String who) {
        jdbc.update(
                "insert into press (clinic_id, press_key, appointment_id, event, made_at, received_at, who)"
                        + " values (?, ?, ?, ?, ?, ?, ?)",
                clinicId.value(),
                press.key(),
                press.appointmentId(),
                press.event().code(),
                made.atOffset(ZoneOffset.UTC),
                received.atOffset(ZoneOffset.UTC),
                who);
    }
}
