package org.earslot.review;

import java.nio.charset.StandardCharsets;
import java.time.YearMonth;
import java.util.HashMap;
import java.util.Map;
import java.util.SortedMap;
import java.util.UUID;
import org.earslot.review.advice.ChangeFindings;
import org.earslot.review.figures.MonthFigures;
import org.earslot.review.figures.MonthSums;
import org.earslot.review.figures.Repeats;
import org.earslot.review.figures.Scope;
import org.earslot.review.figures.WeeksToAppointment;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** What past months came to when they were last worked out, for everyone or one practitioner. */
@Repository
class MonthSummaries {

    static final JsonMapper JSON = JsonMapper.builder()
            .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .build();

    private static final String KEY = "clinic_id = :clinic and whose = :whose and part = :part and review_month ";

    private final JdbcClient database;

    MonthSummaries(JdbcClient database) {
        this.database = database;
    }

    /** What a part rests on: changes so far of the visits it is of, and all else that goes into it. */
    record Ground(long changes, String basis) {}

    /** A short name of what figures rest on: equal for equal texts. */
    static String named(String basis) {
        return UUID.nameUUIDFromBytes(basis.getBytes(StandardCharsets.UTF_8)).toString();
    }

    /** A part of what a month comes to, worked out and kept by itself. */
    record Part<T>(String code, Class<T> type) {

        static final Part<MonthSums> SUMS = new Part<>("sums", MonthSums.class);
        static final Part<MonthFigures> FIGURES = new Part<>("figures", MonthFigures.class);
        static final Part<Repeats> AGAIN = new Part<>("again", Repeats.class);
        static final Part<WeeksToAppointment> WEEKS = new Part<>("weeks", WeeksToAppointment.class);
        static final Part<ChangeFindings> CHANGE = new Part<>("change", ChangeFindings.class);
    }

    /** That part of the months, where it still stands on its ground. @param grounds at least one */
    <T> Map<YearMonth, T> standing(UUID clinicId, Scope whose, Part<T> part, SortedMap<YearMonth, Ground> grounds) {
        Map<YearMonth, T> standing = new HashMap<>();
        asked(
                        "select review_month, changes, basis, content from month_summary where " + KEY
                                + "between :first and :last",
                        clinicId,
                        whose,
                        part)
                .param("first", grounds.firstKey().toString())
                .param("last", grounds.lastKey().toString())
                .query(row -> {
                    YearMonth month = YearMonth.parse(row.getString("review_month"));
                    Ground kept = new Ground(row.getLong("changes"), row.getString("basis"));
                    if (kept.equals(grounds.get(month))) {
                        standing.put(month, JSON.readValue(row.getString("content"), part.type()));
                    }
                });
        return standing;
    }

    /** Keeps a part in place of what was kept; whoever is later wins, and an older ground never stands. */
    <T> void keep(UUID clinicId, Scope whose, YearMonth month, Part<T> part, Ground ground, T content) {
        String text = JSON.writeValueAsString(content);
        int known = asked(
                        "update month_summary set changes = :changes, basis = :basis, content = :content where " + KEY
                                + "= :month",
                        clinicId,
                        whose,
                        part)
                .param("month", month.toString())
                .param("changes", ground.changes())
                .param("basis", ground.basis())
                .param("content", text)
                .update();
        if (known > 0) {
            return;
        }
        try {
            asked(
                            "insert into month_summary (clinic_id, review_month, whose, part, changes, basis, content)"
                                    + " values (:clinic, :month, :whose, :part, :changes, :basis, :content)",
                            clinicId,
                            whose,
                            part)
                    .param("month", month.toString())
                    .param("changes", ground.changes())
                    .param("basis", ground.basis())
                    .param("content", text)
                    .update();
        } catch (DuplicateKeyException e) {
            // Someone else has just kept the same; where that stands on older ground it is worked out again.
        }
    }

    private JdbcClient.StatementSpec asked(String sql, UUID clinicId, Scope whose, Part<?> part) {
        UUID practitioner = whose.practitionerId();
        return database.sql(sql)
                .param("clinic", clinicId)
                .param("whose", practitioner == null ? "" : practitioner.toString())
                .param("part", part.code());
    }
}
