package org.earslot.exchange;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
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
import org.earslot.exchange.csv.CellType;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;

/** Writes lines of a visit log as rows, many at once. */
@Component
class VisitRows {

    private static final List<VisitColumn> COLUMNS =
            List.copyOf(EnumSet.complementOf(EnumSet.of(VisitColumn.VISIT_ID)));

    private static final List<String> CONTENT = Stream.concat(
                    COLUMNS.stream().map(VisitRows::stored), Stream.of("content_hash"))
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

    private final JdbcTemplate jdbc;

    VisitRows(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    private static String stored(VisitColumn column) {
        return switch (column) {
            case DATE -> "visit_date";
            case PRACTITIONER, ROOM -> column.heading() + "_id";
            default -> column.heading();
        };
    }

    /** A line with the practitioner and room its names stand for. */
    record Row(
            VisitLine line,
            List<String> cells,
            UUID practitionerId,
            @Nullable UUID roomId,
            String hash) {

        /** The hash is over ids, so that a new name in set-up does not make another content of it. */
        static Row of(VisitLine line, UUID practitionerId, @Nullable UUID roomId) {
            List<String> cells = VisitColumn.cells(line);
            List<String> named = new ArrayList<>(cells);
            named.set(VisitColumn.PRACTITIONER.ordinal(), practitionerId.toString());
            named.set(VisitColumn.ROOM.ordinal(), roomId == null ? "" : roomId.toString());
            return new Row(line, cells, practitionerId, roomId, VisitLog.hash(named));
        }
    }

    /** Of these ids, at most 1000, those that are known, with the hash of their content; empty if none is stored. */
    Map<String, String> known(UUID clinicId, Collection<String> visitRefs) {
        List<Object> asked = new ArrayList<>(ASKED_AT_ONCE + 1);
        asked.add(clinicId);
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

    void insert(UUID clinicId, ZoneId zone, Iterator<UUID> ids, List<Row> rows) {
        jdbc.batchUpdate(INSERT, rows, rows.size() + 1, (statement, row) -> {
            int next = new Filling(statement).content(row, zone);
            statement.setObject(next, ids.next());
            statement.setObject(next + 1, clinicId);
            statement.setString(next + 2, row.line().visitRef());
        });
    }

    void update(UUID clinicId, ZoneId zone, List<Row> rows) {
        jdbc.batchUpdate(UPDATE, rows, rows.size() + 1, (statement, row) -> {
            int next = new Filling(statement).content(row, zone);
            statement.setObject(next, clinicId);
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
            text(row.hash());
            return place + 1;
        }

        private void fill(VisitColumn column, Row row, ZoneId zone) throws SQLException {
            String cell = row.cells().get(column.ordinal());
            switch (column) {
                case PRACTITIONER -> object(row.practitionerId(), Types.OTHER);
                case ROOM -> object(row.roomId(), Types.OTHER);
                case FIRST_VISIT -> text(row.line().firstVisit().code());
                case HEARING_AID -> text(row.line().hearingAid().code());
                case CAUTIONS -> text(cell);
                default ->
                    fill(
                            column.type().shape(),
                            column.value(row.line()),
                            cell,
                            row.line().date(),
                            zone);
            }
        }

        private void fill(CellType.Shape shape, @Nullable Object value, String cell, LocalDate date, ZoneId zone)
                throws SQLException {
            switch (shape) {
                case DATE -> object(value, Types.DATE);
                case WHOLE -> object(value, Types.INTEGER);
                case TIME -> time(date, (LocalTime) value, zone);
                default -> textOrNull(cell);
            }
        }

        private void text(String value) throws SQLException {
            statement.setString(++place, value);
        }

        private void textOrNull(String value) throws SQLException {
            statement.setString(++place, value.isEmpty() ? null : value);
        }

        private void time(LocalDate date, @Nullable LocalTime time, ZoneId zone) throws SQLException {
            OffsetDateTime at =
                    time == null ? null : date.atTime(time).atZone(zone).toOffsetDateTime();
            object(at, Types.TIMESTAMP_WITH_TIMEZONE);
        }

        private void object(@Nullable Object value, int type) throws SQLException {
            if (value == null) {
                statement.setNull(++place, type);
            } else {
                statement.setObject(++place, value);
            }
        }
    }
}
