package org.earslot.review;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.Optional;
import org.earslot.clinic.ClinicId;
import org.earslot.review.figures.MonthReview;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** The months whose figures were reported, with these figures. */
@Repository
class ClosedMonths {

    /** Figures that a later release adds are missing in what an earlier one stored. */
    private static final JsonMapper JSON = JsonMapper.builder()
            .disable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
            .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .build();

    private final JdbcClient jdbc;

    ClosedMonths(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    Optional<ClosedMonth> find(ClinicId clinicId, YearMonth month) {
        return jdbc.sql(
                        "select closed_at, closed_by, figures from closed_month where clinic_id = ? and review_month = ?")
                .params(clinicId.value(), month.toString())
                .query((row, index) -> new ClosedMonth(
                        row.getObject("closed_at", OffsetDateTime.class).toInstant(),
                        row.getString("closed_by"),
                        JSON.readValue(row.getString("figures"), MonthReview.class)))
                .optional();
    }

    /** Stores the figures for good; false if the month was closed before, by whoever was first. */
    boolean store(ClinicId clinicId, Instant at, String by, MonthReview figures) {
        try {
            return jdbc.sql("insert into closed_month (clinic_id, review_month, closed_at, closed_by, figures)"
                                    + " values (?, ?, ?, ?, ?)")
                            .params(
                                    clinicId.value(),
                                    figures.month().toString(),
                                    at.atOffset(ZoneOffset.UTC),
                                    by,
                                    JSON.writeValueAsString(figures))
                            .update()
                    == 1;
        } catch (DuplicateKeyException e) {
            return false;
        }
    }
}
