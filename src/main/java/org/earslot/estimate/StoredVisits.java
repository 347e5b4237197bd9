package org.earslot.estimate;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.estimate.PastVisit.PastEar;
import org.earslot.visit.VisitRecord;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Transactional;

/**
 * The stored visits a fit may learn from, read row by row without entities: attended, timed as they happened, in the
 * order of call-in.
 */
@Repository
public class StoredVisits {

    private static final int ROWS_AT_ONCE = 2_000;

    private static final String LEARNT_FROM =
            "from visit v join practitioner p on p.id = v.practitioner_id where v.clinic_id = ? and "
                    + VisitRecord.MAY_BE_LEARNT_FROM;

    private final JdbcTemplate jdbc;

    StoredVisits(JdbcTemplate jdbc) {
        this.jdbc = new JdbcTemplate(jdbc.getDataSource());
        this.jdbc.setFetchSize(ROWS_AT_ONCE);
    }

    /** How many there are. */
    long count(UUID clinicId) {
        Long count = jdbc.queryForObject("select count(*) " + LEARNT_FROM, Long.class, clinicId);
        return count == null ? 0 : count;
    }

    /** Whether anybody in this clinic writes down how much of the canal is blocked. */
    boolean occlusionRecorded(UUID clinicId) {
        Long count = jdbc.queryForObject(
                "select count(coalesce(v.right_occlusion_found, v.left_occlusion_found)) " + LEARNT_FROM,
                Long.class,
                clinicId);
        return count != null && count > 0;
    }

    /** Hands over each of them. Within a transaction, so that the database sends them in portions. */
    @Transactional(readOnly = true)
    public void each(UUID clinicId, Consumer<PastVisit> visits) {
        Words words = new Words();
        jdbc.query(
                "select v.*, p.dominant_hand " + LEARNT_FROM + " order by v.visit_date, v.called_in, v.visit_ref",
                row -> {
                    visits.accept(read(row, words));
                },
                clinicId);
    }

    /** The latest of them, the last first. */
    @Transactional(readOnly = true)
    public List<PastVisit> latest(UUID clinicId, int count) {
        Words words = new Words();
        return jdbc.query(
                "select v.*, p.dominant_hand " + LEARNT_FROM
                        + " order by v.visit_date desc, v.called_in desc, v.visit_ref fetch first "
                        + count + " rows only",
                (row, number) -> read(row, words),
                clinicId);
    }

    private static PastVisit read(ResultSet row, Words words) throws SQLException {
        VisitRecord visit = new VisitRecord(row);
        Instant booked = visit.bookedStart();
        String hand = row.getString("dominant_hand");
        return new PastVisit(
                visit.date(),
                words.same(visit.practitionerId().toString()),
                hand == null ? null : Ear.of(hand).orElse(null),
                visit.patientRef(),
                words.sameOrNull(visit.referrer()),
                visit.method(),
                visit.ears(),
                visit.firstVisit(),
                visit.hearingAid(),
                words.cautions(visit.cautionCodes()),
                visit.softenerDays(),
                ear(Ear.RIGHT, visit, words),
                ear(Ear.LEFT, visit, words),
                visit.stoppedEarly(),
                visit.minutesInRoom(),
                booked == null ? 0 : Math.max(0, VisitRecord.minutes(booked, visit.calledIn())));
    }

    private static PastEar ear(Ear ear, VisitRecord visit, Words words) throws SQLException {
        return new PastEar(visit.reported(ear), visit.found(ear), words.methods(visit.methodCodes(ear)));
    }

    /** Keeps one object for equal texts and lists, so that a million visits need little memory. */
    private static final class Words {

        private final Map<String, String> texts = new HashMap<>();
        private final Map<String, Set<Caution>> cautions = new HashMap<>();
        private final Map<String, List<Method>> methods = new HashMap<>();

        String same(String text) {
            return texts.computeIfAbsent(text, Function.identity());
        }

        @Nullable
        String sameOrNull(@Nullable String text) {
            return text == null || text.isBlank() ? null : same(text);
        }

        Set<Caution> cautions(String codes) {
            return cautions.computeIfAbsent(codes, all -> {
                Set<Caution> known = EnumSet.noneOf(Caution.class);
                each(all).forEach(code -> Caution.of(code).ifPresent(known::add));
                return known.isEmpty() ? Set.of() : Set.copyOf(known);
            });
        }

        List<Method> methods(@Nullable String codes) {
            return methods.computeIfAbsent(
                    codes == null ? "" : codes,
                    all -> each(all).flatMap(code -> Method.of(code).stream()).toList());
        }

        private static java.util.stream.Stream<String> each(String codes) {
            return Arrays.stream(codes.split(";")).filter(code -> !code.isEmpty());
        }
    }
}
