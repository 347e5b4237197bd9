package org.earslot.review;

import java.time.YearMonth;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** What past months came to when they were last worked out, for everyone or one practitioner. */
@Repository
class MonthSummaries {

    private static final JsonMapper JSON = JsonMapper.builder()
            .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .build();

    private static final String KEY = "clinic_id = :clinic and whose = :whose and review_month ";

    private final JdbcClient database;

    MonthSummaries(JdbcClient database) {
        this.database = database;
    }

    /** What a summary rests on: changes of the month's visits so far, and all else that goes into it. */
    record Ground(long changes, String basis) {}

    /** The sums of these months that still stand on their ground. */
    Map<YearMonth, MonthSums> standing(UUID clinicId, Whose whose, Map<YearMonth, Ground> grounds) {
        Map<YearMonth, MonthSums> standing = new HashMap<>();
        YearMonth first = grounds.keySet().stream().min(YearMonth::compareTo).orElseThrow();
        YearMonth last = grounds.keySet().stream().max(YearMonth::compareTo).orElseThrow();
        asked(
                        "select review_month, changes, basis, sums from month_summary where " + KEY
                                + "between :first and :last",
                        clinicId,
                        whose)
                .param("first", first.toString())
                .param("last", last.toString())
                .query(row -> {
                    YearMonth month = YearMonth.parse(row.getString("review_month"));
                    Ground kept = new Ground(row.getLong("changes"), row.getString("basis"));
                    if (kept.equals(grounds.get(month))) {
                        standing.put(month, JSON.readValue(row.getString("sums"), MonthSums.class));
                    }
                });
        return standing;
    }

    /** The figures of a month, if they still stand on that ground. */
    Optional<MonthFigures> figures(UUID clinicId, Whose whose, YearMonth month, Ground ground) {
        return asked(
                        "select figures from month_summary where " + KEY
                                + "= :month and changes = :changes and basis = :basis",
                        clinicId,
                        whose)
                .param("month", month.toString())
                .param("changes", ground.changes())
                .param("basis", ground.basis())
                .query((row, number) -> JSON.readValue(row.getString("figures"), MonthFigures.class))
                .optional();
    }

    /** Keeps what a month comes to in place of what was kept; whoever is later wins, and an older ground never stands. */
    void keep(UUID clinicId, Whose whose, YearMonth month, Ground ground, MonthPart part) {
        if (write(
                        "update month_summary set changes = :changes, basis = :basis, sums = :sums, figures = :figures"
                                + " where " + KEY + "= :month",
                        clinicId,
                        whose,
                        month,
                        ground,
                        part)
                > 0) {
            return;
        }
        try {
            write(
                    "insert into month_summary (clinic_id, review_month, whose, changes, basis, sums, figures)"
                            + " values (:clinic, :month, :whose, :changes, :basis, :sums, :figures)",
                    clinicId,
                    whose,
                    month,
                    ground,
                    part);
        } catch (DuplicateKeyException e) {
            // Someone else has just kept the same month; where that stands on older ground it is worked out again.
        }
    }

    private int write(String sql, UUID clinicId, Whose whose, YearMonth month, Ground ground, MonthPart part) {
        return asked(sql, clinicId, whose)
                .param("month", month.toString())
                .param("changes", ground.changes())
                .param("basis", ground.basis())
                .param("sums", JSON.writeValueAsString(part.sums()))
                .param("figures", JSON.writeValueAsString(part.figures()))
                .update();
    }

    private JdbcClient.StatementSpec asked(String sql, UUID clinicId, Whose whose) {
        UUID practitioner = whose.practitionerId();
        return database.sql(sql)
                .param("clinic", clinicId)
                .param("whose", practitioner == null ? "" : practitioner.toString());
    }
}
