package org.earslot.review.advice;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.time.YearMonth;
import java.util.List;
import org.earslot.clinic.policy.SlotTerms;
import org.jspecify.annotations.Nullable;

/**
 * What to change after a month, and what that would have done to it.
 *
 * @param acceptedOverruns the share that the policy accepts
 * @param learnt whether the estimator has learnt from visits; until then nothing is said of slots
 * @param slots the kinds of visit seen in the last 12 months
 * @param together the effect of all that is advised; null where less than two changes are
 * @param questions which questions would have saved most
 * @param referrers whose words can be relied on
 * @param turnarounds how long rooms take to be made ready, by method
 * @param inForce by what slots are set now
 */
public record WhatToChange(
        YearMonth month,
        double acceptedOverruns,
        boolean learnt,
        List<SlotLine> slots,
        @Nullable ReplayEffect together,
        QuestionsAsked questions,
        List<ReferrerLine> referrers,
        List<TurnaroundLine> turnarounds,
        @JsonIgnore SlotTerms inForce) {

    /** The methods whose turnaround in the policy is clearly off. */
    public List<TurnaroundLine> otherTurnarounds() {
        return turnarounds.stream().filter(TurnaroundLine::differs).toList();
    }

    /** The kinds for which another slot is advised. */
    public List<SlotLine> advised() {
        return slots.stream().filter(SlotLine::hasAdvice).toList();
    }
}
