package org.earslot.visit;

import java.time.Clock;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;

/**
 * How often the visits of each past month were changed, so that whoever keeps figures of a month can tell whether they
 * still hold. A change is noted in the transaction that makes it. Days that have just run are not noted, since their month
 * is not {@link #settled} then: a press on the running list costs nothing more.
 */
@Repository
public class VisitLogRevision {

    /** Days so long ago are noted, by the calendar of UTC: more than any clinic's own calendar differs from it. */
    private static final int NOTED_AFTER = 2;

    /** Of more days of one month at once the whole month is noted: a long import writes few rows, whatever its order. */
    private static final int DAYS_APART = 7;

    /** A day settles once it, a month once its last day, lies so far back; later than noting begins, and a transaction's time on. */
    private static final int SETTLES_AFTER = 4;

    private final JdbcTemplate database;
    private final Clock clock;

    VisitLogRevision(JdbcTemplate database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /** Visits on these days were put in, changed or taken out. */
    public void note(UUID clinicId, Collection<LocalDate> days) {
        LocalDate noted = today().minusDays(NOTED_AFTER);
        Map<YearMonth, Set<LocalDate>> months = new TreeMap<>();
        days.stream()
                .filter(day -> !day.isAfter(noted))
                .forEach(day -> months.computeIfAbsent(YearMonth.from(day), month -> new TreeSet<>())
                        .add(day));
        List<Object[]> rows = new ArrayList<>();
        months.forEach((month, changed) -> {
            if (changed.size() > DAYS_APART) {
                rows.add(new Object[] {clinicId, month.toString(), null});
            } else {
                changed.forEach(day -> rows.add(new Object[] {clinicId, month.toString(), day}));
            }
        });
        if (!rows.isEmpty()) {
            database.batchUpdate(
                    "insert into past_visit_change (clinic_id, visit_month, visit_date) values (?, ?, ?)", rows);
        }
    }

    /** These visits now count to another person. */
    public void noteMoved(UUID clinicId, Collection<UUID> visitIds) {
        note(
                clinicId,
                visitIds.stream()
                        .flatMap(id -> database
                                .queryForList(
                                        "select visit_date from visit where clinic_id = ? and id = ?",
                                        LocalDate.class,
                                        clinicId,
                                        id)
                                .stream())
                        .toList());
    }

    /** Whether every change of the month is noted from now on; only then may figures of it be kept. */
    public boolean settled(YearMonth month) {
        return settled(month.atEndOfMonth());
    }

    /** Whether every change of the day is noted from now on. */
    public boolean settled(LocalDate day) {
        return !day.isAfter(today().minusDays(SETTLES_AFTER));
    }

    /**
     * How often each month was changed until now; months without a change are left out. To be read before the visits:
     * a change that comes between is then counted next time.
     */
    public Map<YearMonth, Long> counts(UUID clinicId, YearMonth first, YearMonth last) {
        Map<YearMonth, Long> counts = new HashMap<>();
        database.query(
                "select visit_month, count(*) from past_visit_change"
                        + " where clinic_id = ? and visit_month between ? and ? group by visit_month",
                row -> {
                    counts.put(YearMonth.parse(row.getString(1)), row.getLong(2));
                },
                clinicId,
                first.toString(),
                last.toString());
        return counts;
    }

    /** The same of each day of a month, whether it was changed by itself or with its month. */
    public Map<LocalDate, Long> countsByDay(UUID clinicId, YearMonth month) {
        Map<LocalDate, Long> counts = new TreeMap<>();
        month.atDay(1).datesUntil(month.plusMonths(1).atDay(1)).forEach(day -> counts.put(day, 0L));
        database.query(
                "select visit_date, count(*) from past_visit_change"
                        + " where clinic_id = ? and visit_month = ? group by visit_date",
                row -> {
                    LocalDate changed = row.getObject(1, LocalDate.class);
                    long times = row.getLong(2);
                    counts.replaceAll(
                            (day, before) -> changed == null || changed.equals(day) ? before + times : before);
                },
                clinicId,
                month.toString());
        return counts;
    }

    private LocalDate today() {
        return LocalDate.ofInstant(clock.instant(), ZoneOffset.UTC);
    }
}
