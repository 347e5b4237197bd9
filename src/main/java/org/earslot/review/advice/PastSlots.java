package org.earslot.review.advice;

import java.util.HashMap;
import java.util.Map;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.estimate.BookedEstimate;
import org.earslot.estimate.SlotLengths;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.review.figures.MeasuredVisit;
import org.jspecify.annotations.Nullable;

/**
 * The slot that a past visit would be given by a policy: from the numbers that were estimated for it at booking; where
 * nothing was estimated, as for imported visits, from the estimate of a visit of its kind of which nothing else is known.
 * Not for several threads.
 */
final class PastSlots {

    private final Map<SlotKind, MinutesDistribution> usual;
    private final Map<String, MinutesDistribution> estimated = new HashMap<>();

    PastSlots(Map<SlotKind, MinutesDistribution> usual) {
        this.usual = Map.copyOf(usual);
    }

    /** The minutes that the slot must hold, before what the policy gives the kind beyond them. */
    double needed(SlotKind kind, @Nullable String estimate, PolicyTerms terms) {
        MinutesDistribution inRoom = estimate == null
                ? usual.get(kind)
                : estimated.computeIfAbsent(
                        estimate,
                        text -> BookedEstimate.find(text)
                                .map(BookedEstimate::inRoomMinutes)
                                .orElseGet(() -> usual.get(kind)));
        return SlotLengths.needed(inRoom, kind.method(), terms);
    }

    /** The slot that {@code terms} give a visit. */
    int given(MeasuredVisit visit, PolicyTerms terms) {
        SlotKind kind = SlotKind.of(visit.method(), visit.ears());
        return SlotLengths.of(
                needed(kind, visit.estimated(), terms) + terms.slotAdjustments().of(kind), terms);
    }

    /**
     * The slot of a booked visit had {@code then} been the policy instead of {@code now}: what was booked, and what the
     * one gives beyond the other; never moved out of the policy's limits.
     */
    int instead(MeasuredVisit visit, PolicyTerms now, PolicyTerms then) {
        int booked = visit.slotMinutes() == null ? 0 : visit.slotMinutes();
        SlotKind kind = SlotKind.of(visit.method(), visit.ears());
        boolean same = now.acceptedOverrunShare() == then.acceptedOverrunShare()
                && now.slotAdjustments().of(kind) == then.slotAdjustments().of(kind);
        if (same) {
            return booked;
        }
        int before = SlotLengths.of(
                needed(kind, visit.estimated(), now) + now.slotAdjustments().of(kind), now);
        int after = SlotLengths.of(
                needed(kind, visit.estimated(), then) + then.slotAdjustments().of(kind), then);
        int least = Math.min(booked, then.leastSlotMinutes());
        int most = Math.max(booked, then.mostSlotMinutes());
        return Math.max(least, Math.min(most, booked + after - before));
    }
}
