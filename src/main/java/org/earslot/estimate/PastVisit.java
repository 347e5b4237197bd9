package org.earslot.estimate;

import java.time.LocalDate;
import java.util.List;
import java.util.Set;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.jspecify.annotations.Nullable;

/**
 * An attended, timed visit as the estimator learns from it.
 *
 * @param practitioner who did it, by any name that stays the same
 * @param dominantHand that practitioner's, null where not known
 * @param minutes from called in to finished
 * @param lateness minutes from the booked start to call-in; 0 where early or not booked
 */
public record PastVisit(
        LocalDate date,
        String practitioner,
        @Nullable Ear dominantHand,
        String patientRef,
        @Nullable String referrer,
        Method method,
        Ears ears,
        Answer firstVisit,
        Answer hearingAid,
        Set<Caution> cautions,
        @Nullable Integer softenerDays,
        PastEar right,
        PastEar left,
        @Nullable StoppedEarly stopped,
        double minutes,
        double lateness) {

    /** What was said of an ear before, what was found in it, and the methods used in it, in order. */
    public record PastEar(EarFindings reported, EarFindings found, List<Method> used) {

        static final PastEar UNKNOWN = new PastEar(EarFindings.UNKNOWN, EarFindings.UNKNOWN, List.of());
    }

    PastEar ear(Ear ear) {
        return ear == Ear.RIGHT ? right : left;
    }
}
