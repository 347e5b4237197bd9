package org.earslot.patient;

import java.util.List;
import java.util.UUID;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.core.annotation.Order;
import org.springframework.data.domain.Limit;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;

/** Gives the records of earlier versions what they are found again by; once, when the application has started. */
@Component
class PatientKeysMade {

    private static final Limit AT_ONCE = Limit.of(1000);

    private final Patients patients;
    private final JdbcTemplate jdbc;

    PatientKeysMade(Patients patients, JdbcTemplate jdbc) {
        this.patients = patients;
        this.jdbc = jdbc;
    }

    /** Leaves the record's version alone: nobody's change is lost by it, and nobody who edits is told of one. */
    @Order(0)
    @EventListener(ApplicationReadyEvent.class)
    void make() {
        List<UUID> next = patients.withOlderKeys(NameKeys.VERSION, AT_ONCE);
        while (!next.isEmpty()) {
            jdbc.batchUpdate(
                    """
                    update patient set family_start = ?, family_end = ?, family_sound = ?, phone_key = ?, search_text = ?,
                        keys_version = ?
                    where id = ?""", patients.findAllById(next).stream().map(Patient::keyed).toList());
            next = patients.withOlderKeys(NameKeys.VERSION, AT_ONCE);
        }
    }
}
