package org.earslot.visit;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * What was booked, as a visit keeps its own copy of it; null is "not known".
 *
 * @param visitRef the clinic's own id of the visit, once in a clinic
 * @param patientRef the local number, no name
 * @param reported per ear, what the referral said
 * @param slotMinutes null for a fit-in, which has no slot
 * @param estimatedQuantiles the estimate the slot was sized by, as compact JSON
 */
public record BookedVisit(
        ClinicId clinicId,
        String visitRef,
        String patientRef,
        LocalDate date,
        UUID practitionerId,
        @Nullable UUID roomId,
        Method methodPlanned,
        Ears ears,
        Answer firstVisit,
        Answer hearingAid,
        Set<Caution> cautions,
        @Nullable Integer softenerDays,
        @Nullable String referrer,
        Map<Ear, EarFindings> reported,
        @Nullable Instant bookedStart,
        @Nullable Integer slotMinutes,
        boolean fitIn,
        @Nullable String estimatedQuantiles,
        @Nullable String estimateVersion) {

    public BookedVisit {
        reported = Map.copyOf(reported);
    }

    /** What was reported of {@code ear}; nothing known where nothing was. */
    public EarFindings reported(Ear ear) {
        return reported.getOrDefault(ear, EarFindings.UNKNOWN);
    }
}
