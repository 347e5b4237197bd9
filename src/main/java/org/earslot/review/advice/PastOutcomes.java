package org.earslot.review.advice;

import java.util.ArrayList;
import java.util.List;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.Share;

/**
 * How visits of a kind came out in the earlier and in the later half of a time.
 *
 * @param earlier the first half
 * @param later the second half
 */
record PastOutcomes(Half earlier, Half later) {

    /** A rise counts once chance alone would show it in less than 1 of 10: sooner than elsewhere, to be on the safe side. */
    private static final double Z = 1.2815515655446004;

    /**
     * @param residual visits that left residual wax, or wax not removed, of those with an outcome recorded
     * @param stopped visits stopped early, of those where it is recorded whether
     * @param harmed visits with an adverse event, of all seen
     */
    record Half(Share residual, Share stopped, Share harmed) {}

    /** What speaks against a shorter slot: "residual", "stopped", "harmed" where it rose, "not_recorded" where nobody knows. */
    List<String> againstShorter() {
        List<String> against = new ArrayList<>();
        if (later.residual().of() == 0 || earlier.residual().of() == 0) {
            against.add("not_recorded");
        }
        rose("residual", earlier.residual(), later.residual(), against);
        rose("stopped", earlier.stopped(), later.stopped(), against);
        rose("harmed", earlier.harmed(), later.harmed(), against);
        return List.copyOf(against);
    }

    private static void rose(String name, Share before, Share now, List<String> against) {
        if (now.against(before, Z).verdict() == Change.Verdict.MORE) {
            against.add(name);
        }
    }
}
