package org.earslot.exchange.imports;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.function.Consumer;
import org.earslot.exchange.csv.FieldError;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;

/** The rejected lines of all runs; a line with several faults has several entries, side by side. */
@Component
public class Rejections {

    private static final int PAGE = 1000;

    private final JdbcTemplate jdbc;

    Rejections(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    void store(UUID runId, List<Rejection> rejections) {
        jdbc.batchUpdate(
                "insert into import_rejection (import_run_id, line, row_ref, column_name, given, reason, remedy, raw_line)"
                        + " values (?, ?, ?, ?, ?, ?, ?, ?)",
                rejections,
                PAGE,
                (row, rejection) -> {
                    FieldError fault = rejection.fault();
                    row.setObject(1, runId);
                    row.setLong(2, rejection.line());
                    row.setString(3, rejection.rowRef());
                    row.setString(4, fault.column());
                    row.setString(5, fault.value());
                    row.setString(6, fault.reason());
                    row.setString(7, fault.remedy());
                    row.setString(8, rejection.raw());
                });
    }

    /** At most {@code most} entries after the first {@code skip}, by line. */
    public List<Rejection> page(UUID runId, int skip, int most) {
        return jdbc.query(
                "select line, row_ref, column_name, given, reason, remedy, raw_line from import_rejection"
                        + " where import_run_id = ? order by line, id offset ? rows fetch first ? rows only",
                (row, n) -> rejection(row),
                runId,
                skip,
                most);
    }

    /** The number of rejected lines whose problems are stored. */
    public long lines(UUID runId) {
        Long lines = jdbc.queryForObject(
                "select count(distinct line) from import_rejection where import_run_id = ?", Long.class, runId);
        return lines == null ? 0 : lines;
    }

    /** Hands out every rejected line with all its entries, by line, holding no more than a few at a time. */
    public void eachLine(UUID runId, Consumer<List<Rejection>> taker) {
        List<Rejection> line = new ArrayList<>();
        long[] after = {-1, -1};
        List<Rejection> page;
        do {
            page = jdbc.query(
                    "select id, line, row_ref, column_name, given, reason, remedy, raw_line from import_rejection"
                            + " where import_run_id = ? and (line > ? or (line = ? and id > ?)) order by line, id"
                            + " fetch first " + PAGE + " rows only",
                    (row, n) -> {
                        after[0] = row.getLong("line");
                        after[1] = row.getLong("id");
                        return rejection(row);
                    },
                    runId,
                    after[0],
                    after[0],
                    after[1]);
            for (Rejection rejection : page) {
                if (!line.isEmpty() && line.get(0).line() != rejection.line()) {
                    taker.accept(List.copyOf(line));
                    line.clear();
                }
                line.add(rejection);
            }
        } while (page.size() == PAGE);
        if (!line.isEmpty()) {
            taker.accept(line);
        }
    }

    void delete(UUID runId) {
        jdbc.update("delete from import_rejection where import_run_id = ?", runId);
    }

    private static Rejection rejection(ResultSet row) throws SQLException {
        FieldError fault = new FieldError(
                row.getString("column_name"), row.getString("given"), row.getString("reason"), row.getString("remedy"));
        return new Rejection(row.getLong("line"), row.getString("row_ref"), fault, row.getString("raw_line"));
    }
}
