package org.earslot.review.figures;

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
public class MeasuredVisits {

    /** Two visits booked to the same minute share the next later start, so the frame begins a second on. */
    private static final String ON_THE_LIST = """
            select id, visit_ref, visit_date, practitioner_id, attendance, method_planned, ears, referrer,
              right_wax_found, right_canal_found, right_depth_found, right_outcome, right_adverse_events,
              left_wax_found, left_canal_found, left_depth_found, left_outcome, left_adverse_events,
              booked_start, slot_minutes, fit_in, arrived, called_in, finished, outside_minutes, stopped_early, promised_quantiles,
              coalesce(room_ready, finished) as ready,
              coalesce(
                min(booked_start) over (partition by practitioner_id, visit_date order by booked_start
                  range between interval '1' second following and unbounded following),
                booked_start + slot_minutes * interval '1' minute) as may_last
            from visit
            where clinic_id = :clinic and visit_date between :first and :last
              and (attendance is null or attendance not in ('cancelled_by_patient', 'cancelled_by_clinic'))
              and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)
            """;

    private static final String CANCELLED =
            "select count(case attendance when 'cancelled_by_patient' then 1 end) as by_patient,"
                    + " count(case attendance when 'cancelled_by_clinic' then 1 end) as by_clinic"
                    + " from visit where clinic_id = :clinic and visit_date between :first and :last"
                    + " and attendance in ('cancelled_by_patient', 'cancelled_by_clinic')"
                    + " and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)";

    private final JdbcClient database;

    MeasuredVisits(JdbcClient database) {
        this.database = database;
    }

    /** The visits booked from {@code first} to {@code last} that nobody cancelled, by practitioner and booked start. */
    public List<MeasuredVisit> between(UUID clinicId, LocalDate first, LocalDate last, Scope whose) {
        String sql = "select listed.*, practitioner.name as practitioner from (" + ON_THE_LIST
                + ") listed join practitioner on practitioner.id = listed.practitioner_id"
                + " order by practitioner.name, visit_date, coalesce(booked_start, called_in), visit_ref";
        return asked(sql, clinicId, first, last, whose)
                .query((row, number) -> visit(row))
                .list();
    }

    /** How many visits were cancelled, by whom. */
    public record Cancelled(int byPatient, int byClinic) {}

    /** Of the days from {@code first} to {@code last}. */
    public Cancelled cancelled(UUID clinicId, LocalDate first, LocalDate last, Scope whose) {
        return asked(CANCELLED, clinicId, first, last, whose)
                .query((row, number) -> new Cancelled(row.getInt("by_patient"), row.getInt("by_clinic")))
                .single();
    }

    /** The date of the last visit before {@code date}. */
    public Optional<LocalDate> lastBefore(UUID clinicId, LocalDate date, Scope whose) {
        return database.sql("select max(visit_date) from visit where clinic_id = :clinic and visit_date < :date"
                        + " and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)")
                .param("clinic", clinicId)
                .param("date", date)
                .param("practitioner", whose.practitionerId())
                .query((row, number) -> Optional.ofNullable(row.getObject(1, LocalDate.class)))
                .single();
    }

    private JdbcClient.StatementSpec asked(String sql, UUID clinicId, LocalDate first, LocalDate last, Scope whose) {
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
                harmed(row.getString("right_adverse_events")) || harmed(row.getString("left_adverse_events")),
                instant(row, "booked_start"),
                row.getObject("slot_minutes", Integer.class),
                row.getBoolean("fit_in"),
                instant(row, "arrived"),
                instant(row, "called_in"),
                instant(row, "finished"),
                instant(row, "ready"),
                row.getInt("outside_minutes"),
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
        return code == null ? null : Word.find(words, code).orElse(null);
    }

    /** @param adverseEvents of one ear: several count once */
    private static boolean harmed(@Nullable String adverseEvents) {
        return adverseEvents != null && !adverseEvents.equals("none");
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        OffsetDateTime time = row.getObject(column, OffsetDateTime.class);
        return time == null ? null : time.toInstant();
    }
}
