package org.earslot.booking;

import java.util.UUID;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.estimate.VisitPlan;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;

/** What a referral says, put as the question to the estimator. */
public final class VisitPlans {

    private VisitPlans() {}

    public static VisitPlan of(Referral referral, @Nullable Patient patient, @Nullable UUID practitionerId) {
        return of(
                referral, patient, practitionerId, referral.details().request().methodPlanned());
    }

    /** The same visit by another method. */
    public static VisitPlan of(
            Referral referral, @Nullable Patient patient, @Nullable UUID practitionerId, Method method) {
        ReferralDetails details = referral.details();
        return new VisitPlan(
                patient == null ? null : patient.localNumber(),
                practitionerId,
                method,
                details.request().ears(),
                details.request().firstVisit(),
                patient == null ? Answer.NOT_KNOWN : patient.details().hearingAid(),
                details.cautions().confirmed(),
                details.request().softenerDays(),
                details.reported().byEar(),
                details.source().referrer());
    }
}
