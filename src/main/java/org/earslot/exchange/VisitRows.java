package org.earslot.exchange;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.earslot.visit.VisitRecord;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Writes lines of a visit log as rows, and rows as the cells of lines, many at once. */
@Component
class VisitRows {

    private static final List<VisitColumn> COLUMNS =
            List.copyOf(EnumSet.complementOf(EnumSet.of(VisitColumn.VISIT_ID)));

    private static final List<String> CONTENT = Stream.concat(
                    COLUMNS.stream().map(VisitColumn::stored), Stream.of("content_hash"))
            .toList();
    private static final String INSERT = "insert into visit (" + String.join(", ", CONTENT)
            + ", id, clinic_id, visit_ref, fit_in, times_entered_later, source, version) values ("
            + "?, ".repeat(CONTENT.size()) + "?, ?, ?, false, false, 'import', 0)";
    private static final String UPDATE = "update visit set "
            + CONTENT.stream().map(column -> column + " = ?").collect(Collectors.joining(", "))
            + ", version = version + 1 where clinic_id = ? and visit_ref = ?";
    private static final int ASKED_AT_ONCE = 1000;
    // A look-up for each id by the index on clinic and id, which both databases then use: H2 scans the clinic's visits
    // for
    // a list, PostgreSQL keeps a plan that scans them all for a join.
    private static final String KNOWN = "select asked.ref, (select coalesce(known.content_hash, '') from visit known"
            + " where known.clinic_id = ? and known.visit_ref = asked.ref) from (values "
            + String.join(", ", Collections.nCopies(ASKED_AT_ONCE, "(cast(? as varchar))"))
            + ") as asked (ref)";

    /** So many visits are read at once. */
    static final int PAGE = 1000;

    private static final String OVER = """
            select * from visit
            where clinic_id = :clinic and attendance is not null and visit_date <= :last
              and (visit_date > :date or (visit_date = :date and visit_ref > :ref))
            order by visit_date, visit_ref
            """ + " fetch first " + PAGE + " rows only";

    private final JdbcTemplate jdbc;

    VisitRows(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    /** A line with the practitioner and room its names stand for. */
    record Row(
            VisitLine line, UUID practitionerId, @Nullable UUID roomId, String hash) {

        /** The hash is over ids, so that a new name in set-up does not make another content of it. */
        static Row of(VisitLine line, UUID practitionerId, @Nullable UUID roomId) {
            List<String> cells = new ArrayList<>(VisitColumn.cells(line));
            cells.set(VisitColumn.PRACTITIONER.ordinal(), practitionerId.toString());
            cells.set(VisitColumn.ROOM.ordinal(), roomId == null ? "" : roomId.toString());
            return new Row(line, practitionerId, roomId, VisitLog.hash(cells));
        }
    }

    /** Of these ids, at most 1000, those that are known, with the hash of their content; empty if none is stored. */
    Map<String, String> known(ClinicId clinicId, Collection<String> visitRefs) {
        List<Object> asked = new ArrayList<>(ASKED_AT_ONCE + 1);
        asked.add(clinicId.value());
        asked.addAll(visitRefs);
        while (asked.size() <= ASKED_AT_ONCE) {
            asked.add("");
        }
        Map<String, String> known = new HashMap<>();
        jdbc.query(
                KNOWN,
                row -> {
                    String hash = row.getString(2);
                    if (hash != null) {
                        known.put(row.getString(1), hash);
                    }
                },
                asked.toArray());
        return known;
    }

    /** The hashes that these visits have as lines; of one that is still open and so is no line yet, no hash. */
    Map<String, String> hashes(ClinicId clinicId, Collection<String> visitRefs, ZoneId zone) {
        Map<String, String> hashes = new HashMap<>();
        JdbcClient.create(jdbc)
                .sql("select * from visit where clinic_id = :clinic and visit_ref in (:refs)")
                .param("clinic", clinicId.value())
                .param("refs", visitRefs)
                .query(row -> {
                    VisitRecord.Columns visit = VisitRecord.columns(row);
                    boolean over = new VisitRecord(visit).attendance() != null;
                    List<String> cells = VisitColumn.cells(visit, zone, UUID::toString);
                    hashes.put(row.getString("visit_ref"), over ? VisitLog.hash(cells) : "open");
                });
        return hashes;
    }

    /**
     * The visits that are over as the cells of their lines, by date and id.
     *
     * @param date from this day on, of this day those after {@code visitRef}
     * @param names of practitioners and rooms
     */
    List<List<String>> over(
            ClinicId clinicId, LocalDate date, String visitRef, LocalDate last, ZoneId zone, Map<UUID, String> names) {
        return JdbcClient.create(jdbc)
                .sql(OVER)
                .param("clinic", clinicId.value())
                .param("date", date)
                .param("ref", visitRef)
                .param("last", last)
                .query((row, number) ->
                        VisitColumn.cells(VisitRecord.columns(row), zone, id -> names.getOrDefault(id, "")))
                .list();
    }

    void insert(ClinicId clinicId, ZoneId zone, Iterator<UUID> ids, List<Row> rows) {
        jdbc.batchUpdate(INSERT, rows, rows.size() + 1, (statement, row) -> {
            int next = new Filling(statement).content(row, zone);
            statement.setObject(next, ids.next());
            statement.setObject(next + 1, clinicId.value());
            statement.setString(next + 2, row.line().visitRef());
        });
    }

    void update(ClinicId clinicId, ZoneId zone, List<Row> rows) {
        jdbc.batchUpdate(UPDATE, rows, rows.size() + 1, (statement, row) -> {
            int next = new Filling(statement).content(row, zone);
            statement.setObject(next, clinicId.value());
            statement.setString(next + 1, row.line().visitRef());
        });
    }

    /** Fills the places of a statement one after the other. */
    private static final class Filling {

        private final PreparedStatement statement;
        private int place;

        Filling(PreparedStatement statement) {
            this.statement = statement;
        }

        /** Fills in the columns of {@link #CONTENT}; returns the next place. */
        int content(Row row, ZoneId zone) throws SQLException {
            for (VisitColumn column : COLUMNS) {
                fill(column, row, zone);
            }
            fill(row.hash(), Types.VARCHAR);
            return place + 1;
        }

        private void fill(VisitColumn column, Row row, ZoneId zone) throws SQLException {
            switch (column) {
                case PRACTITIONER -> fill(row.practitionerId(), Types.OTHER);
                case ROOM -> fill(row.roomId(), Types.OTHER);
                default ->
                    fill(
                            column.toStore(row.line(), zone),
                            switch (column.type().shape()) {
                                case DATE -> Types.DATE;
                                case WHOLE -> Types.INTEGER;
                                case TIME -> Types.TIMESTAMP_WITH_TIMEZONE;
                                default -> Types.VARCHAR;
                            });
            }
        }

        private void fill(@Nullable Object value, int type) throws SQLException {
            if (value == null) {
                statement.setNull(++place, type);
            } else {
                statement.setObject(++place, value);
            }
        }
    }
}
