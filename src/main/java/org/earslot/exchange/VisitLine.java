package org.earslot.exchange;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnknownCode;
import org.earslot.visit.EarRecord;
import org.jspecify.annotations.Nullable;

/**
 * One line of a visit log: a visit of the past as files carry it. Times are clinic-local; null is "not known".
 *
 * @param cautions in the order in which they were given, each once
 * @param unknownCautions those stored in codes that are not known here; none in a line that was read from a file
 * @param reported per ear, what the referral said
 * @param recorded per ear, what was done and what came of it
 */
public record VisitLine(
        String visitRef,
        String patientRef,
        LocalDate date,
        String practitioner,
        @Nullable String room,
        Attendance attendance,
        Method methodPlanned,
        Ears ears,
        Answer firstVisit,
        Answer hearingAid,
        List<Caution> cautions,
        List<UnknownCode> unknownCautions,
        @Nullable Integer softenerDays,
        Map<Ear, EarFindings> reported,
        Map<Ear, EarRecord> recorded,
        @Nullable LocalTime bookedStart,
        @Nullable Integer slotMinutes,
        @Nullable LocalTime arrived,
        @Nullable LocalTime calledIn,
        @Nullable LocalTime finished,
        @Nullable LocalTime roomReady,
        @Nullable StoppedEarly stoppedEarly,
        @Nullable String note) {

    public VisitLine {
        cautions = List.copyOf(cautions);
        unknownCautions = List.copyOf(unknownCautions);
        reported = Map.copyOf(reported);
        recorded = Map.copyOf(recorded);
    }

    /** What was reported of {@code ear}. */
    public EarFindings reported(Ear ear) {
        return reported.getOrDefault(ear, EarFindings.UNKNOWN);
    }

    /** What was recorded of {@code ear}. */
    public EarRecord recorded(Ear ear) {
        return recorded.getOrDefault(ear, EarRecord.EMPTY);
    }
}
