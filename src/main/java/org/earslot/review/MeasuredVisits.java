package org.earslot.review;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** The visits of a clinic with what the neighbours on the day's list say of each: worked out in the database. */
@Repository
class MeasuredVisits {

    /** Two visits booked to the same minute share the next later start, so the frame begins a second on. */
    private static final String ON_THE_LIST = """
            select visit.*, coalesce(room_ready, finished) as ready,
              coalesce(
                min(booked_start) over (partition by practitioner_id, visit_date order by booked_start
                  range between interval '1' second following and unbounded following),
                booked_start + slot_minutes * interval '1' minute) as may_last
            from visit
            where clinic_id = :clinic and visit_date between :first and :last
              and (attendance is null or attendance not in ('cancelled_by_patient', 'cancelled_by_clinic'))
              and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)
            """;

    private static final String SEEN = "attendance in ('attended', 'attended_late') and called_in is not null";

    // greatest() passes over nulls in PostgreSQL, so what is not known is kept out before.
    private static final String WAITED =
            "case when " + SEEN + " and coalesce(booked_start, arrived) is not null then greatest(0,"
                    + " extract(epoch from called_in) - extract(epoch from greatest(coalesce(booked_start, arrived),"
                    + " coalesce(arrived, booked_start)))) / 60.0 end";

    private static final String MINUTES_OVER =
            "case when " + SEEN + " and finished is not null and not fit_in and may_last is not null"
                    + " then greatest(0, extract(epoch from ready) - extract(epoch from may_last)) / 60.0 end";

    private static final String BY_DAY = "select visit_date,"
            + " sum(case when attendance in ('attended', 'attended_late') then 1 else 0 end) as seen,"
            + " sum(case when attendance = 'did_not_attend' then 1 else 0 end) as absent,"
            + " count(waited) as waits, coalesce(sum(waited), 0) as wait_sum,"
            + " coalesce(sum(waited * waited), 0) as wait_squares,"
            + " sum(case when waited > 10 then 1 else 0 end) as late, count(minutes_over) as measured,"
            + " sum(case when minutes_over > 0 then 1 else 0 end) as overran,"
            + " coalesce(sum(minutes_over), 0) as over_sum"
            + " from (select visit_date, attendance, " + WAITED + " as waited, " + MINUTES_OVER + " as minutes_over"
            + " from (" + ON_THE_LIST + ") listed) figured group by visit_date order by visit_date";

    private final JdbcClient database;

    MeasuredVisits(JdbcClient database) {
        this.database = database;
    }

    /** The visits booked from {@code first} to {@code last} that nobody cancelled, by practitioner and booked start. */
    List<MeasuredVisit> between(UUID clinicId, LocalDate first, LocalDate last, Whose whose) {
        String sql = "select listed.*, practitioner.name as practitioner from (" + ON_THE_LIST
                + ") listed join practitioner on practitioner.id = listed.practitioner_id"
                + " order by practitioner.name, visit_date, coalesce(booked_start, called_in), visit_ref";
        return asked(sql, clinicId, first, last, whose)
                .query((row, number) -> visit(row))
                .list();
    }

    /** The same visits counted and summed by day, in the database. */
    List<DayFigures> daysBetween(UUID clinicId, LocalDate first, LocalDate last, Whose whose) {
        return asked(BY_DAY, clinicId, first, last, whose)
                .query((row, number) -> new DayFigures(
                        row.getObject("visit_date", LocalDate.class),
                        new Figures(
                                row.getInt("seen"),
                                row.getInt("absent"),
                                row.getInt("waits"),
                                row.getDouble("wait_sum"),
                                row.getDouble("wait_squares"),
                                row.getInt("late"),
                                row.getInt("measured"),
                                row.getInt("overran"),
                                row.getDouble("over_sum"))))
                .list();
    }

    /** How many visits were cancelled, by the patient or by the clinic. */
    int cancelled(UUID clinicId, LocalDate first, LocalDate last, Whose whose, Attendance how) {
        return asked(
                        "select count(*) from visit where clinic_id = :clinic and visit_date between :first and :last"
                                + " and attendance = '" + how.code() + "'"
                                + " and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)",
                        clinicId,
                        first,
                        last,
                        whose)
                .query(Integer.class)
                .single();
    }

    /** The date of the last visit before {@code date}. */
    Optional<LocalDate> lastBefore(UUID clinicId, LocalDate date, Whose whose) {
        return database.sql("select max(visit_date) from visit where clinic_id = :clinic and visit_date < :date"
                        + " and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)")
                .param("clinic", clinicId)
                .param("date", date)
                .param("practitioner", whose.practitionerId())
                .query((row, number) -> Optional.ofNullable(row.getObject(1, LocalDate.class)))
                .single();
    }

    private JdbcClient.StatementSpec asked(String sql, UUID clinicId, LocalDate first, LocalDate last, Whose whose) {
        return database.sql(sql)
                .param("clinic", clinicId)
                .param("first", first)
                .param("last", last)
                .param("practitioner", whose.practitionerId());
    }

    private static MeasuredVisit visit(ResultSet row) throws SQLException {
        return new MeasuredVisit(
                row.getObject("id", UUID.class),
                row.getString("visit_ref"),
                row.getObject("visit_date", LocalDate.class),
                row.getObject("practitioner_id", UUID.class),
                row.getString("practitioner"),
                word(Attendance.values(), row.getString("attendance")),
                Method.of(row.getString("method_planned")).orElseThrow(),
                Ears.of(row.getString("ears")).orElseThrow(),
                row.getString("referrer"),
                eitherEar(row, "wax_found", Wax.class, Wax.values()),
                eitherEar(row, "canal_found", Canal.class, Canal.values()),
                eitherEar(row, "depth_found", Depth.class, Depth.values()),
                eitherEar(row, "outcome", Outcome.class, Outcome.values()),
                harmed(row.getString("right_adverse_event")) || harmed(row.getString("left_adverse_event")),
                instant(row, "booked_start"),
                row.getObject("slot_minutes", Integer.class),
                row.getBoolean("fit_in"),
                instant(row, "arrived"),
                instant(row, "called_in"),
                instant(row, "finished"),
                instant(row, "ready"),
                word(StoppedEarly.values(), row.getString("stopped_early")),
                instant(row, "may_last"),
                row.getString("promised_quantiles"));
    }

    private static <W extends Enum<W> & Word> Set<W> eitherEar(ResultSet row, String column, Class<W> type, W[] words)
            throws SQLException {
        Set<W> found = EnumSet.noneOf(type);
        for (String ear : List.of("right_", "left_")) {
            W word = word(words, row.getString(ear + column));
            if (word != null) {
                found.add(word);
            }
        }
        return found;
    }

    private static <W extends Word> @Nullable W word(W[] words, @Nullable String code) {
        return code == null ? null : Word.find(words, code).orElseThrow();
    }

    private static boolean harmed(@Nullable String adverseEvent) {
        return adverseEvent != null && !adverseEvent.equals("none");
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        OffsetDateTime time = row.getObject(column, OffsetDateTime.class);
        return time == null ? null : time.toInstant();
    }
}
