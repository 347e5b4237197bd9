package org.earslot.visit;

import java.time.Clock;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;

/**
 * How often the visits of each past month were changed, so that whoever keeps figures of a month can tell whether they
 * still hold. A change is noted in the transaction that makes it. Days that have just run are not noted, since their month
 * is not {@link #settled} then: a press on the running list costs nothing more.
 */
@Repository
public class PastChanges {

    /** Days so long ago are noted, by the calendar of UTC: more than any clinic's own calendar differs from it. */
    private static final int NOTED_AFTER = 2;

    /** A month settles once its last day lies so far back; later than noting begins, and a transaction's time on. */
    private static final int SETTLES_AFTER = 4;

    private final JdbcTemplate database;
    private final Clock clock;

    PastChanges(JdbcTemplate database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /** Visits on these days were put in, changed or taken out. */
    void note(UUID clinicId, Collection<LocalDate> days) {
        LocalDate noted = today().minusDays(NOTED_AFTER);
        List<Object[]> months = days.stream()
                .filter(day -> !day.isAfter(noted))
                .map(YearMonth::from)
                .distinct()
                .map(month -> new Object[] {clinicId, month.toString()})
                .toList();
        if (!months.isEmpty()) {
            database.batchUpdate("insert into past_visit_change (clinic_id, visit_month) values (?, ?)", months);
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
        return !month.atEndOfMonth().isAfter(today().minusDays(SETTLES_AFTER));
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

    private LocalDate today() {
        return LocalDate.ofInstant(clock.instant(), ZoneOffset.UTC);
    }
}
