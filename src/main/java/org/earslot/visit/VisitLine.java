package org.earslot.visit;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/**
 * One line of a visit log: a visit of the past as files carry it. Times are clinic-local; null is "not known".
 *
 * @param cautions in the order in which they were given, each once
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

    /** The columns of a visit log in the order in which they are written. */
    public static final List<String> COLUMNS = List.of(
            "visit_id",
            "patient_ref",
            "date",
            "practitioner",
            "room",
            "attendance",
            "method_planned",
            "ears",
            "first_visit",
            "hearing_aid",
            "cautions",
            "softener_days",
            "right_wax_reported",
            "right_canal_reported",
            "right_depth_reported",
            "right_occlusion_reported",
            "left_wax_reported",
            "left_canal_reported",
            "left_depth_reported",
            "left_occlusion_reported",
            "right_methods",
            "left_methods",
            "right_wax_found",
            "right_canal_found",
            "right_depth_found",
            "right_occlusion_found",
            "left_wax_found",
            "left_canal_found",
            "left_depth_found",
            "left_occlusion_found",
            "booked_start",
            "slot_minutes",
            "arrived",
            "called_in",
            "finished",
            "room_ready",
            "stopped_early",
            "right_outcome",
            "left_outcome",
            "note");

    /** The columns without which no line can go in. */
    public static final List<String> REQUIRED =
            List.of("visit_id", "patient_ref", "date", "practitioner", "attendance", "method_planned", "ears");

    public VisitLine {
        cautions = List.copyOf(cautions);
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

    /** The line's cells in the order of {@link #COLUMNS}; two lines are the same content if these are equal. */
    public List<String> cells() {
        EarRecord right = recorded(Ear.RIGHT);
        EarRecord left = recorded(Ear.LEFT);
        List<String> cells = new ArrayList<>(COLUMNS.size());
        cells.addAll(List.of(visitRef, patientRef, date.toString(), practitioner, text(room)));
        cells.addAll(List.of(attendance.code(), methodPlanned.code(), ears.code(), code(firstVisit), code(hearingAid)));
        cells.addAll(List.of(codes(cautions), text(softenerDays)));
        cells.addAll(findings(reported(Ear.RIGHT)));
        cells.addAll(findings(reported(Ear.LEFT)));
        cells.addAll(List.of(codes(right.methods()), codes(left.methods())));
        cells.addAll(findings(right.found()));
        cells.addAll(findings(left.found()));
        cells.addAll(List.of(text(bookedStart), text(slotMinutes), text(arrived), text(calledIn)));
        cells.addAll(List.of(text(finished), text(roomReady), code(stoppedEarly)));
        cells.addAll(List.of(code(right.outcome()), code(left.outcome()), text(note)));
        return cells;
    }

    private static List<String> findings(EarFindings findings) {
        return List.of(
                code(findings.wax()), code(findings.canal()), code(findings.depth()), code(findings.occlusion()));
    }

    private static String code(@Nullable Word word) {
        return word == null || word == Answer.NOT_KNOWN ? "" : word.code();
    }

    private static String codes(List<? extends Word> words) {
        return words.stream().map(Word::code).collect(Collectors.joining(";"));
    }

    private static String text(@Nullable Object value) {
        return value == null ? "" : value.toString();
    }
}
