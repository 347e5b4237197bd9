package org.earslot.exchange;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.exchange.csv.Cells;
import org.earslot.visit.EarRecord;
import org.earslot.visit.VisitLine;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/** Reads the cells of one row as a line of a visit log, by the rules of the log alone: no database, no set-up. */
final class VisitCellsBefore {

    private static final long LONGEST_MINUTES = VisitTimes.LONGEST.toMinutes();
    private static final Answer[] YES_OR_NO = {Answer.YES, Answer.NO};

    private final Cells cells;
    private final ZoneId zone;

    private VisitCellsBefore(Cells cells, ZoneId zone) {
        this.cells = cells;
        this.zone = zone;
    }

    /** The line, or empty with everything that is wrong noted at the cells. */
    static Optional<VisitLine> read(Cells cells, ZoneId zone) {
        VisitLine line = new VisitCellsBefore(cells, zone).line();
        return line != null && cells.faults().isEmpty() ? Optional.of(line) : Optional.empty();
    }

    private @Nullable VisitLine line() {
        String visitRef = cells.requiredName("visit_id");
        String patientRef = cells.requiredName("patient_ref");
        LocalDate date = cells.requiredDate("date");
        String practitioner = cells.requiredName("practitioner");
        String room = cells.name("room");
        Attendance attendance = cells.requiredWord("attendance", Attendance.values());
        Method method = cells.requiredWord("method_planned", Method.values());
        Ears ears = cells.requiredWord("ears", Ears.values());
        Answer firstVisit = answer("first_visit");
        Answer hearingAid = answer("hearing_aid");
        List<Caution> cautions =
                cells.words("cautions", Caution.values()).stream().distinct().toList();
        Integer softenerDays = cells.whole("softener_days", 0, Integer.MAX_VALUE);
        Map<Ear, EarFindings> reported =
                Map.of(Ear.RIGHT, findings("right", "reported"), Ear.LEFT, findings("left", "reported"));
        Map<Ear, EarRecord> recorded = Map.of(Ear.RIGHT, recorded("right"), Ear.LEFT, recorded("left"));
        LocalTime booked = time("booked_start", date);
        Integer slotMinutes = cells.whole("slot_minutes", 1, (int) LONGEST_MINUTES);
        LocalTime arrived = time("arrived", date);
        LocalTime calledIn = time("called_in", date);
        LocalTime finished = time("finished", date);
        LocalTime roomReady = time("room_ready", date);
        StoppedEarly stoppedEarly = cells.word("stopped_early", StoppedEarly.values());
        String note = cells.text("note");
        checkTimes(attendance, calledIn, finished, roomReady);
        if (visitRef == null || patientRef == null || date == null || practitioner == null) {
            return null;
        }
        if (attendance == null || method == null || ears == null) {
            return null;
        }
        return new VisitLine(
                visitRef,
                patientRef,
                date,
                practitioner,
                room,
                attendance,
                method,
                ears,
                firstVisit,
                hearingAid,
                cautions,
                softenerDays,
                reported,
                recorded,
                booked,
                slotMinutes,
                arrived,
                calledIn,
                finished,
                roomReady,
                stoppedEarly,
                note);
    }

    private Answer answer(String column) {
        Answer answer = cells.word(column, YES_OR_NO);
        return answer == null ? Answer.NOT_KNOWN : answer;
    }

    private EarFindings findings(String ear, String when) {
        return new EarFindings(
                cells.word(ear + "_wax_" + when, Wax.values()),
                cells.word(ear + "_canal_" + when, Canal.values()),
                cells.word(ear + "_depth_" + when, Depth.values()),
                cells.word(ear + "_occlusion_" + when, Occlusion.values()));
    }

    private EarRecord recorded(String ear) {
        return new EarRecord(
                cells.words(ear + "_methods", Method.values()),
                findings(ear, "found"),
                cells.word(ear + "_outcome", Outcome.values()),
                null);
    }

    /** A time of day that the clinic's clocks showed on that date: one hour of the year is skipped in spring. */
    private @Nullable LocalTime time(String column, @Nullable LocalDate date) {
        LocalTime time = cells.time(column);
        if (time != null
                && date != null
                && zone.getRules().getValidOffsets(date.atTime(time)).isEmpty()) {
            cells.fault(column, "the clocks skipped this time on that date", "give the time that the clock showed");
            return null;
        }
        return time;
    }

    private void checkTimes(
            @Nullable Attendance attendance,
            @Nullable LocalTime calledIn,
            @Nullable LocalTime finished,
            @Nullable LocalTime roomReady) {
        boolean seen = attendance == Attendance.ATTENDED || attendance == Attendance.ATTENDED_LATE;
        if (seen && cells.cell("called_in").isEmpty() && !cells.cell("finished").isEmpty()) {
            cells.fault("called_in", "finished is given, called in is not", "give both times, or neither");
        } else if (seen
                && cells.cell("finished").isEmpty()
                && !cells.cell("called_in").isEmpty()) {
            cells.fault("finished", "called in is given, finished is not", "give both times, or neither");
        }
        if (calledIn != null && finished != null && !finished.isAfter(calledIn)) {
            cells.fault("finished", "not after called in (" + calledIn + ")", "mend whichever of the two is wrong");
        } else {
            checkSpan("finished", "called in", calledIn, finished);
        }
        checkSpan("room_ready", "finished", finished, roomReady);
    }

    private void checkSpan(String column, String since, @Nullable LocalTime from, @Nullable LocalTime to) {
        if (from != null && to != null && Duration.between(from, to).toMinutes() > LONGEST_MINUTES) {
            cells.fault(
                    column,
                    "more than " + LONGEST_MINUTES + " minutes after " + since + " (" + from + ")",
                    "mend the times: at most " + LONGEST_MINUTES + " minutes lie between them");
        }
    }
}
