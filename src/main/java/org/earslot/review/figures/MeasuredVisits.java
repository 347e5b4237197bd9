package org.earslot.review.figures;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Outcome;
import org.earslot.ear.Wax;
import org.earslot.visit.VisitRecord;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** The visits of a clinic with what the neighbours on the day's list say of each: worked out in the database. */
@Repository
public class MeasuredVisits {

    /** Two visits booked to the same minute share the next later start, so the frame begins a second on. */
    private static final String ON_THE_LIST = """
            select id, visit_ref, visit_date, practitioner_id, attendance, method_planned, ears, referrer,
              right_wax_found, right_canal_found, right_depth_found, right_occlusion_found, right_outcome, right_adverse_events,
              left_wax_found, left_canal_found, left_depth_found, left_occlusion_found, left_outcome, left_adverse_events,
              booked_start, slot_minutes, fit_in, arrived, called_in, finished, outside_minutes, stopped_early, estimated_quantiles,
              coalesce(room_ready, finished) as ready,
              coalesce(
                min(booked_start) over (partition by practitioner_id, visit_date order by booked_start
                  range between interval '1' second following and unbounded following),
                booked_start + slot_minutes * interval '1' minute) as may_last
            from visit
            where clinic_id = :clinic and visit_date between :first and :last
              and NOT_CANCELLED
              and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)
            """.replace("NOT_CANCELLED", VisitRecord.NOT_CANCELLED);

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
    public List<MeasuredVisit> between(ClinicId clinicId, LocalDate first, LocalDate last, Scope whose) {
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
    public Cancelled cancelled(ClinicId clinicId, LocalDate first, LocalDate last, Scope whose) {
        return asked(CANCELLED, clinicId, first, last, whose)
                .query((row, number) -> new Cancelled(row.getInt("by_patient"), row.getInt("by_clinic")))
                .single();
    }

    /** The date of the last visit before {@code date}. */
    public Optional<LocalDate> lastBefore(ClinicId clinicId, LocalDate date, Scope whose) {
        return database.sql("select max(visit_date) from visit where clinic_id = :clinic and visit_date < :date"
                        + " and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)")
                .param("clinic", clinicId.value())
                .param("date", date)
                .param("practitioner", whose.practitionerId())
                .query((row, number) -> Optional.ofNullable(row.getObject(1, LocalDate.class)))
                .single();
    }

    private JdbcClient.StatementSpec asked(
            String sql, ClinicId clinicId, LocalDate first, LocalDate last, Scope whose) {
        return database.sql(sql)
                .param("clinic", clinicId.value())
                .param("first", first)
                .param("last", last)
                .param("practitioner", whose.practitionerId());
    }

    private static MeasuredVisit visit(ResultSet row) throws SQLException {
        VisitRecord visit = new VisitRecord(row);
        EarFindings right = visit.found(Ear.RIGHT);
        EarFindings left = visit.found(Ear.LEFT);
        return new MeasuredVisit(
                visit.id(),
                visit.visitRef(),
                visit.date(),
                visit.practitionerId(),
                row.getString("practitioner"),
                visit.attendance(),
                visit.method(),
                visit.ears(),
                visit.referrer(),
                either(Wax.class, right.wax(), left.wax()),
                either(Canal.class, right.canal(), left.canal()),
                either(Depth.class, right.depth(), left.depth()),
                either(Outcome.class, visit.outcome(Ear.RIGHT), visit.outcome(Ear.LEFT)),
                visit.harmed(Ear.RIGHT) || visit.harmed(Ear.LEFT),
                visit.bookedStart(),
                visit.slotMinutes(),
                visit.fitIn(),
                visit.arrived(),
                visit.calledIn(),
                visit.finished(),
                visit.instant("ready"),
                visit.outsideMinutes(),
                visit.stoppedEarly(),
                visit.instant("may_last"),
                visit.estimated());
    }

    private static <W extends Enum<W>> Set<W> either(Class<W> type, @Nullable W right, @Nullable W left) {
        Set<W> found = EnumSet.noneOf(type);
        Stream.of(right, left).filter(Objects::nonNull).forEach(found::add);
        return found;
    }
}
