package org.earslot.estimate;

import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * A visit not yet held, as far as it is known; null and {@link Answer#NOT_KNOWN} mean "not known".
 *
 * @param patientRef the clinic's own reference, so that this patient's past visits count; null for a new patient
 * @param practitionerId who will do it; null for any of them
 * @param reported what was said of each ear; an ear left out is not known
 */
public record VisitPlan(
        @Nullable String patientRef,
        @Nullable UUID practitionerId,
        Method method,
        Ears ears,
        Answer firstVisit,
        Answer hearingAid,
        Set<Caution> cautions,
        @Nullable Integer softenerDays,
        Map<Ear, EarFindings> reported,
        @Nullable String referrer) {

    public VisitPlan {
        cautions = Set.copyOf(cautions);
        reported = Map.copyOf(reported);
    }

    /** A visit of which only method and ears are known. */
    public static VisitPlan of(Method method, Ears ears) {
        return new VisitPlan(
                null, null, method, ears, Answer.NOT_KNOWN, Answer.NOT_KNOWN, Set.of(), null, Map.of(), null);
    }

    /** What was said of {@code ear}. */
    public EarFindings reported(Ear ear) {
        return reported.getOrDefault(ear, EarFindings.UNKNOWN);
    }

    /** This visit, known not to be the first. */
    VisitPlan notTheFirst() {
        return new VisitPlan(
                patientRef,
                practitionerId,
                method,
                ears,
                Answer.NO,
                hearingAid,
                cautions,
                softenerDays,
                reported,
                referrer);
    }

    /** This visit, done by {@code practitioner}. */
    public VisitPlan doneBy(@Nullable UUID practitioner) {
        return new VisitPlan(
                patientRef,
                practitioner,
                method,
                ears,
                firstVisit,
                hearingAid,
                cautions,
                softenerDays,
                reported,
                referrer);
    }
}
