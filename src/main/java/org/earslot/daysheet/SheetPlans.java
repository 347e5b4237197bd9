package org.earslot.daysheet;

import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.earslot.clinic.ClinicId;
import org.earslot.day.DaySchedule.Line;
import org.earslot.ear.Answer;
import org.earslot.estimate.VisitPlan;
import org.earslot.patient.Patients;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Puts a line of the diary as the question to the estimator. */
@Component
class SheetPlans {

    private final Patients patients;

    SheetPlans(Patients patients) {
        this.patients = patients;
    }

    /** @param line of a removal of wax, so that method and ears are known */
    VisitPlan of(ClinicId clinicId, Line line, @Nullable ReferralDetails details) {
        Answer hearingAid = line.who().patientId() == null
                ? Answer.NOT_KNOWN
                : patients.findByClinicIdAndId(
                                clinicId, Objects.requireNonNull(line.who().patientId()))
                        .map(patient -> patient.details().hearingAid())
                        .orElse(Answer.NOT_KNOWN);
        return new VisitPlan(
                line.who().localNumber(),
                line.practitionerId(),
                Objects.requireNonNull(line.what().method()),
                Objects.requireNonNull(line.what().ears()),
                details == null ? Answer.NOT_KNOWN : details.request().firstVisit(),
                hearingAid,
                details == null ? Set.of() : details.cautions().confirmed(),
                details == null ? null : details.request().softenerDays(),
                details == null ? Map.of() : details.reported().byEar(),
                details == null ? null : details.source().referrer());
    }
}
