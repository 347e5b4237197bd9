package org.earslot.daysheet;

import java.util.Comparator;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.day.DaySchedule.Line;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.WhyLine;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Why a visit takes as long as it does, in the few reasons that a line of the sheet has room for. */
@Component
class SheetReasons {

    /** Contributions that would round to 0 are hidden. */
    private static final double LEAST_SHOWN = 0.5;

    /** How many reasons for the length a line shows. */
    private static final int REASONS = 2;

    private final SheetPlans plans;
    private final Estimates estimates;

    SheetReasons(SheetPlans plans, Estimates estimates) {
        this.plans = plans;
        this.estimates = estimates;
    }

    List<WhyLine> of(ClinicId clinicId, Line line, @Nullable Referral referral) {
        ReferralDetails details = referral == null ? null : referral.details();
        return estimates.estimate(clinicId, plans.of(clinicId, line, details)).why().stream()
                .filter(why -> why.minutes() >= LEAST_SHOWN && !why.level().isEmpty())
                .filter(why -> Method.of(why.subject()).isEmpty())
                .sorted(Comparator.comparingDouble(WhyLine::minutes).reversed())
                .limit(REASONS)
                .toList();
    }
}
