package org.earslot.review.advice;

import java.util.List;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.review.figures.Share;
import org.jspecify.annotations.Nullable;

/**
 * The slot of one kind of visit, and what is advised for it.
 *
 * @param kind its code
 * @param method its method's code
 * @param ears "one" or "both"
 * @param longer visits of the last 12 months that took longer than the slot they would get now, of the latest ones
 * @param slot the usual slot of such visits as the policy gives it now: half get less, half more
 * @param slotFrom 1 in 10 get less
 * @param slotTo 1 in 10 get more
 * @param beyond minutes beyond the estimate that are given now
 * @param advised the usual slot as advised; that of now where nothing is
 * @param beyondAdvised minutes beyond the estimate that are advised
 * @param rose what speaks against a shorter slot
 * @param effect of the change on the month; null where nothing is advised
 */
public record SlotLine(
        String kind,
        String method,
        String ears,
        Share longer,
        int slot,
        int slotFrom,
        int slotTo,
        int beyond,
        int advised,
        int beyondAdvised,
        SlotAdvice.Verdict verdict,
        List<String> rose,
        @Nullable ReplayEffect effect) {

    static SlotLine of(
            SlotKind kind,
            Share longer,
            int[] now,
            int beyond,
            int[] then,
            SlotAdvice advice,
            @Nullable ReplayEffect effect) {
        return new SlotLine(
                kind.code(),
                kind.method().code(),
                kind.ears(),
                longer,
                now[1],
                now[0],
                now[2],
                beyond,
                then[1],
                advice.beyond(),
                advice.verdict(),
                advice.rose(),
                effect);
    }

    /** Whether another slot is advised. */
    public boolean hasAdvice() {
        return beyondAdvised != beyond;
    }
}
