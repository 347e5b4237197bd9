package org.earslot.review.advice;

import java.time.YearMonth;
import java.util.List;
import org.earslot.clinic.policy.SlotTerms;
import org.jspecify.annotations.Nullable;

/** {@link WhatToChange} as it is kept: without the terms it was worked out under, which whoever reads it knows. */
public record ChangeFindings(
        YearMonth month,
        double acceptedOverruns,
        boolean learnt,
        List<SlotLine> slots,
        @Nullable ReplayEffect together,
        QuestionsAsked questions,
        List<ReferrerLine> referrers) {

    public static ChangeFindings of(WhatToChange told) {
        return new ChangeFindings(
                told.month(),
                told.acceptedOverruns(),
                told.learnt(),
                told.slots(),
                told.together(),
                told.questions(),
                told.referrers());
    }

    public WhatToChange under(SlotTerms terms) {
        return new WhatToChange(month, acceptedOverruns, learnt, slots, together, questions, referrers, terms);
    }
}
