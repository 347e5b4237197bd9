package org.earslot.plan;

import java.sql.Timestamp;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.plan.TradeOffs.Worked;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/** Trade-offs computed before, for the next who asks. */
@Repository
class StoredTradeOffs {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final JdbcTemplate jdbc;
    private final ClinicClock clock;

    StoredTradeOffs(JdbcTemplate jdbc, ClinicClock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** What is stored; empty if an older version stored it in a form that cannot be read. */
    Optional<Worked> find(ClinicId clinicId, String key) {
        List<String> found = jdbc.queryForList(
                "select points from trade_off_kept where clinic_id = ? and content_key = ?",
                String.class,
                clinicId.value(),
                key);
        try {
            return found.stream().findFirst().map(text -> JSON.readValue(text, Worked.class));
        } catch (JacksonException e) {
            return Optional.empty();
        }
    }

    @Transactional
    void store(ClinicId clinicId, String key, Worked worked) {
        jdbc.update("delete from trade_off_kept where clinic_id = ? and content_key = ?", clinicId.value(), key);
        jdbc.update(
                "insert into trade_off_kept (clinic_id, content_key, points, made_at) values (?, ?, ?, ?)",
                clinicId.value(),
                key,
                JSON.writeValueAsString(worked),
                Timestamp.from(clock.now()));
    }
}
