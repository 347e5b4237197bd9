package org.earslot.exchange;

import static org.earslot.exchange.VisitColumn.ARRIVED;
import static org.earslot.exchange.VisitColumn.ATTENDANCE;
import static org.earslot.exchange.VisitColumn.BOOKED_START;
import static org.earslot.exchange.VisitColumn.CALLED_IN;
import static org.earslot.exchange.VisitColumn.CAUTIONS;
import static org.earslot.exchange.VisitColumn.EARS;
import static org.earslot.exchange.VisitColumn.FINISHED;
import static org.earslot.exchange.VisitColumn.FIRST_VISIT;
import static org.earslot.exchange.VisitColumn.HEARING_AID;
import static org.earslot.exchange.VisitColumn.LEFT_CANAL_FOUND;
import static org.earslot.exchange.VisitColumn.LEFT_CANAL_REPORTED;
import static org.earslot.exchange.VisitColumn.LEFT_DEPTH_FOUND;
import static org.earslot.exchange.VisitColumn.LEFT_DEPTH_REPORTED;
import static org.earslot.exchange.VisitColumn.LEFT_METHODS;
import static org.earslot.exchange.VisitColumn.LEFT_OCCLUSION_FOUND;
import static org.earslot.exchange.VisitColumn.LEFT_OCCLUSION_REPORTED;
import static org.earslot.exchange.VisitColumn.LEFT_OUTCOME;
import static org.earslot.exchange.VisitColumn.LEFT_WAX_FOUND;
import static org.earslot.exchange.VisitColumn.LEFT_WAX_REPORTED;
import static org.earslot.exchange.VisitColumn.METHOD_PLANNED;
import static org.earslot.exchange.VisitColumn.NOTE;
import static org.earslot.exchange.VisitColumn.PATIENT_REF;
import static org.earslot.exchange.VisitColumn.PRACTITIONER;
import static org.earslot.exchange.VisitColumn.RIGHT_CANAL_FOUND;
import static org.earslot.exchange.VisitColumn.RIGHT_CANAL_REPORTED;
import static org.earslot.exchange.VisitColumn.RIGHT_DEPTH_FOUND;
import static org.earslot.exchange.VisitColumn.RIGHT_DEPTH_REPORTED;
import static org.earslot.exchange.VisitColumn.RIGHT_METHODS;
import static org.earslot.exchange.VisitColumn.RIGHT_OCCLUSION_FOUND;
import static org.earslot.exchange.VisitColumn.RIGHT_OCCLUSION_REPORTED;
import static org.earslot.exchange.VisitColumn.RIGHT_OUTCOME;
import static org.earslot.exchange.VisitColumn.RIGHT_WAX_FOUND;
import static org.earslot.exchange.VisitColumn.RIGHT_WAX_REPORTED;
import static org.earslot.exchange.VisitColumn.ROOM;
import static org.earslot.exchange.VisitColumn.ROOM_READY;
import static org.earslot.exchange.VisitColumn.SLOT_MINUTES;
import static org.earslot.exchange.VisitColumn.SOFTENER_DAYS;
import static org.earslot.exchange.VisitColumn.STOPPED_EARLY;
import static org.earslot.exchange.VisitColumn.VISIT_ID;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.exchange.csv.Cells;
import org.earslot.visit.EarRecord;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/** Reads the cells of one row as a line of a visit log, by the rules of the log alone: no database, no set-up. */
final class VisitCells {

    private static final long LONGEST_MINUTES = VisitTimes.LONGEST.toMinutes();

    private final Cells cells;
    private final ZoneId zone;

    private VisitCells(Cells cells, ZoneId zone) {
        this.cells = cells;
        this.zone = zone;
    }

    /** The line, or empty with everything that is wrong noted at the cells. */
    static Optional<VisitLine> read(Cells cells, ZoneId zone) {
        VisitLine line = new VisitCells(cells, zone).line();
        return line != null && cells.faults().isEmpty() ? Optional.of(line) : Optional.empty();
    }

    private @Nullable VisitLine line() {
        String visitRef = VISIT_ID.read(cells);
        String patientRef = PATIENT_REF.read(cells);
        LocalDate date = VisitColumn.DATE.read(cells);
        String practitioner = PRACTITIONER.read(cells);
        String room = ROOM.read(cells);
        Attendance attendance = ATTENDANCE.read(cells);
        Method method = METHOD_PLANNED.read(cells);
        Ears ears = EARS.read(cells);
        Answer firstVisit = FIRST_VISIT.read(cells);
        Answer hearingAid = HEARING_AID.read(cells);
        List<Caution> cautions =
                CAUTIONS.<List<Caution>>read(cells).stream().distinct().toList();
        Integer softenerDays = SOFTENER_DAYS.read(cells);
        Map<Ear, EarFindings> reported = Map.of(
                Ear.RIGHT,
                findings(RIGHT_WAX_REPORTED, RIGHT_CANAL_REPORTED, RIGHT_DEPTH_REPORTED, RIGHT_OCCLUSION_REPORTED),
                Ear.LEFT,
                findings(LEFT_WAX_REPORTED, LEFT_CANAL_REPORTED, LEFT_DEPTH_REPORTED, LEFT_OCCLUSION_REPORTED));
        EarRecord right = new EarRecord(
                RIGHT_METHODS.read(cells),
                findings(RIGHT_WAX_FOUND, RIGHT_CANAL_FOUND, RIGHT_DEPTH_FOUND, RIGHT_OCCLUSION_FOUND),
                RIGHT_OUTCOME.read(cells),
                null);
        EarRecord left = new EarRecord(
                LEFT_METHODS.read(cells),
                findings(LEFT_WAX_FOUND, LEFT_CANAL_FOUND, LEFT_DEPTH_FOUND, LEFT_OCCLUSION_FOUND),
                LEFT_OUTCOME.read(cells),
                null);
        LocalTime booked = time(BOOKED_START, date);
        Integer slotMinutes = SLOT_MINUTES.read(cells);
        LocalTime arrived = time(ARRIVED, date);
        LocalTime calledIn = time(CALLED_IN, date);
        LocalTime finished = time(FINISHED, date);
        LocalTime roomReady = time(ROOM_READY, date);
        StoppedEarly stoppedEarly = STOPPED_EARLY.read(cells);
        String note = NOTE.read(cells);
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
                List.of(),
                softenerDays,
                reported,
                Map.of(Ear.RIGHT, right, Ear.LEFT, left),
                booked,
                slotMinutes,
                arrived,
                calledIn,
                finished,
                roomReady,
                stoppedEarly,
                note);
    }

    private EarFindings findings(VisitColumn wax, VisitColumn canal, VisitColumn depth, VisitColumn occlusion) {
        return new EarFindings(wax.read(cells), canal.read(cells), depth.read(cells), occlusion.read(cells));
    }

    /** A time of day that the clinic's clocks showed on that date: one hour of the year is skipped in spring. */
    private @Nullable LocalTime time(VisitColumn column, @Nullable LocalDate date) {
        LocalTime time = column.read(cells);
        if (time != null
                && date != null
                && zone.getRules().getValidOffsets(date.atTime(time)).isEmpty()) {
            cells.fault(
                    column.heading(),
                    "the clocks skipped this time on that date",
                    "give the time that the clock showed");
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
        if (seen
                && cells.cell(CALLED_IN.heading()).isEmpty()
                && !cells.cell(FINISHED.heading()).isEmpty()) {
            cells.fault(CALLED_IN.heading(), "finished is given, called in is not", "give both times, or neither");
        } else if (seen
                && cells.cell(FINISHED.heading()).isEmpty()
                && !cells.cell(CALLED_IN.heading()).isEmpty()) {
            cells.fault(FINISHED.heading(), "called in is given, finished is not", "give both times, or neither");
        }
        if (calledIn != null && finished != null && !finished.isAfter(calledIn)) {
            cells.fault(
                    FINISHED.heading(),
                    "not after called in (" + calledIn + ")",
                    "correct whichever of the two is wrong");
        } else {
            checkSpan(FINISHED.heading(), "called in", calledIn, finished);
        }
        checkSpan(ROOM_READY.heading(), FINISHED.heading(), finished, roomReady);
    }

    private void checkSpan(String column, String since, @Nullable LocalTime from, @Nullable LocalTime to) {
        if (from != null && to != null && Duration.between(from, to).toMinutes() > LONGEST_MINUTES) {
            cells.fault(
                    column,
                    "more than " + LONGEST_MINUTES + " minutes after " + since + " (" + from + ")",
                    "correct the times: at most " + LONGEST_MINUTES + " minutes lie between them");
        }
    }
}
