package org.earslot.review;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.review.MonthSummaries.Ground;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;

/** What past days of a whole clinic came to when they were last worked out. */
@Repository
class DaySummaries {

    private final JdbcTemplate database;

    DaySummaries(JdbcTemplate database) {
        this.database = database;
    }

    /** Those of the days that still stand on their ground. */
    SortedMap<LocalDate, DayPart> standing(UUID clinicId, SortedMap<LocalDate, Ground> grounds) {
        SortedMap<LocalDate, DayPart> standing = new TreeMap<>();
        if (grounds.isEmpty()) {
            return standing;
        }
        database.query(
                "select visit_date, changes, basis, content from day_summary"
                        + " where clinic_id = ? and visit_date between ? and ?",
                row -> {
                    LocalDate day = row.getObject(1, LocalDate.class);
                    if (new Ground(row.getLong(2), row.getString(3)).equals(grounds.get(day))) {
                        standing.put(day, MonthSummaries.JSON.readValue(row.getString(4), DayPart.class));
                    }
                },
                clinicId,
                grounds.firstKey(),
                grounds.lastKey());
        return standing;
    }

    /** Keeps days in place of what was kept; whoever is later wins, and an older ground never stands. */
    void keep(UUID clinicId, Collection<DayPart> days, Map<LocalDate, Ground> grounds) {
        List<Object[]> known =
                days.stream().map(day -> new Object[] {clinicId, day.date()}).toList();
        List<Object[]> rows = days.stream()
                .map(day -> {
                    Ground ground = grounds.get(day.date());
                    return new Object[] {
                        clinicId,
                        day.date(),
                        ground.changes(),
                        ground.basis(),
                        MonthSummaries.JSON.writeValueAsString(day)
                    };
                })
                .toList();
        try {
            database.batchUpdate("delete from day_summary where clinic_id = ? and visit_date = ?", known);
            database.batchUpdate(
                    "insert into day_summary (clinic_id, visit_date, changes, basis, content) values (?, ?, ?, ?, ?)",
                    rows);
        } catch (DuplicateKeyException e) {
            // Someone else has just kept the same; where that stands on older ground it is worked out again.
        }
    }
}
