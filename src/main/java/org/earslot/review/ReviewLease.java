package org.earslot.review;

import java.time.Duration;
import java.time.ZoneOffset;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/**
 * Whose turn it is to work out a clinic's months ahead: a row that only one server's statement can take. A turn not
 * renewed for {@link #HELD} expires, so that a server that died holds up nothing.
 */
@Repository
class ReviewLease {

    private static final Duration HELD = Duration.ofMinutes(10);

    private final JdbcClient database;
    private final ClinicClock clock;

    ReviewLease(JdbcClient database, ClinicClock clock) {
        this.database = database;
        this.clock = clock;
    }

    /** A turn as it is taken. */
    record Turn(UUID clinicId, UUID holder) {}

    /** Takes the turn; false where somebody else has it. */
    boolean take(Turn turn) {
        database.sql("delete from review_turn where clinic_id = :clinic and held_until < :now")
                .param("clinic", turn.clinicId())
                .param("now", clock.now().atOffset(ZoneOffset.UTC))
                .update();
        try {
            return database.sql(
                                    "insert into review_turn (clinic_id, holder, held_until) values (:clinic, :holder, :until)")
                            .param("clinic", turn.clinicId())
                            .param("holder", turn.holder())
                            .param("until", clock.now().plus(HELD).atOffset(ZoneOffset.UTC))
                            .update()
                    == 1;
        } catch (DuplicateKeyException e) {
            return false;
        }
    }

    /** Holds it on; false where it lapsed and is another's by now. */
    boolean holdOn(Turn turn) {
        return held("update review_turn set held_until = :until", turn)
                        .param("until", clock.now().plus(HELD).atOffset(ZoneOffset.UTC))
                        .update()
                == 1;
    }

    /** Gives it back. */
    void end(Turn turn) {
        held("delete from review_turn", turn).update();
    }

    private JdbcClient.StatementSpec held(String sql, Turn turn) {
        return database.sql(sql + " where clinic_id = :clinic and holder = :holder")
                .param("clinic", turn.clinicId())
                .param("holder", turn.holder());
    }
}
