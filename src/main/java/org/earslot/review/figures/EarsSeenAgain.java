package org.earslot.review.figures;

import java.time.LocalDate;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.visit.VisitRecord;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Counts ears that came back, in the database; each ear's past is found by the index of the patient. */
@Repository
public class EarsSeenAgain {

    private static final String EAR = "select visit_date, patient_ref, method_planned, '%1$s' as ear from visit"
            + " where clinic_id = :clinic and visit_date between :first and :last and " + VisitRecord.SEEN
            + " and ears in ('%1$s', 'both')"
            + " and (cast(:practitioner as uuid) is null or practitioner_id = :practitioner)";

    private static final String COUNTED = "select method_planned, count(*) as seen, sum(again) as again from ("
            + " select now.method_planned, case when exists (select 1 from visit before"
            + " where before.clinic_id = :clinic and before.patient_ref = now.patient_ref"
            + " and before." + VisitRecord.SEEN
            + " and before.ears in (now.ear, 'both') and before.visit_date < now.visit_date"
            + " and before.visit_date >= now.visit_date - interval '" + Repeats.DAYS
            + "' day) then 1 else 0 end as again"
            + " from (" + EAR.formatted("right") + " union all " + EAR.formatted("left") + ") now) each_ear"
            + " group by method_planned order by method_planned";

    private final JdbcClient database;

    EarsSeenAgain(JdbcClient database) {
        this.database = database;
    }

    public Repeats between(ClinicId clinicId, LocalDate first, LocalDate last, Scope whose) {
        List<Repeats.Line> lines = database.sql(COUNTED)
                .param("clinic", clinicId.value())
                .param("first", first)
                .param("last", last)
                .param("practitioner", whose.practitionerId())
                .query((row, index) -> new Repeats.Line(
                        row.getString("method_planned"), new Share(row.getInt("again"), row.getInt("seen"))))
                .list();
        return Repeats.of(lines);
    }
}
