package org.earslot.estimate;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.function.Consumer;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ear;
import org.earslot.visit.VisitRecord;
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
    long count(ClinicId clinicId) {
        Long count = jdbc.queryForObject("select count(*) " + LEARNT_FROM, Long.class, clinicId.value());
        return count == null ? 0 : count;
    }

    /** Whether anybody in this clinic writes down how much of the canal is blocked. */
    boolean occlusionRecorded(ClinicId clinicId) {
        Long count = jdbc.queryForObject(
                "select count(coalesce(v.right_occlusion_found, v.left_occlusion_found)) " + LEARNT_FROM,
                Long.class,
                clinicId.value());
        return count != null && count > 0;
    }

    /** Hands over each of them. Within a transaction, so that the database sends them in portions. */
    @Transactional(readOnly = true)
    public void each(ClinicId clinicId, Consumer<PastVisit> visits) {
        PastVisitReader reader = new PastVisitReader();
        jdbc.query(
                "select v.*, p.dominant_hand " + LEARNT_FROM + " order by v.visit_date, v.called_in, v.visit_ref",
                row -> {
                    visits.accept(read(row, reader));
                },
                clinicId.value());
    }

    /** The latest of them, the last first. Those of one moment are put in order here: databases sort texts differently. */
    @Transactional(readOnly = true)
    public List<PastVisit> latest(ClinicId clinicId, int count) {
        record Ordered(LocalDate date, Instant calledIn, String visitRef, PastVisit visit) {}
        PastVisitReader reader = new PastVisitReader();
        List<Ordered> latest = jdbc.query(
                "select v.*, p.dominant_hand " + LEARNT_FROM
                        + " order by v.visit_date desc, v.called_in desc fetch first " + count + " rows with ties",
                (row, number) -> {
                    VisitRecord visit = new VisitRecord(row);
                    return new Ordered(visit.date(), visit.calledIn(), visit.visitRef(), read(row, reader));
                },
                clinicId.value());
        return latest.stream()
                .sorted(Comparator.comparing(Ordered::date)
                        .thenComparing(Ordered::calledIn)
                        .reversed()
                        .thenComparing(Ordered::visitRef))
                .limit(count)
                .map(Ordered::visit)
                .toList();
    }

    private static PastVisit read(ResultSet row, PastVisitReader reader) throws SQLException {
        VisitRecord visit = new VisitRecord(row);
        String hand = row.getString("dominant_hand");
        return reader.read(
                visit,
                visit.practitionerId().toString(),
                hand == null ? null : Ear.of(hand).orElse(null));
    }
}
