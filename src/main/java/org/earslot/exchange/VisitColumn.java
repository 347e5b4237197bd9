package org.earslot.exchange;

import static org.earslot.exchange.csv.CellType.ANSWER;
import static org.earslot.exchange.csv.CellType.NAME;
import static org.earslot.exchange.csv.CellType.TEXT;
import static org.earslot.exchange.csv.CellType.TIME;
import static org.earslot.exchange.csv.CellType.required;
import static org.earslot.exchange.csv.CellType.whole;
import static org.earslot.exchange.csv.CellType.word;
import static org.earslot.exchange.csv.CellType.words;

import java.util.List;
import java.util.function.Function;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.Wax;
import org.earslot.exchange.csv.CellType;
import org.earslot.exchange.csv.Column;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/**
 * The columns of a visit log in the order in which they are written. Import, export, the rows of the database and the
 * mapping of a clinic's own headings all go by this list: a new column is a constant here, a component of
 * {@link VisitLine} and a column of the table {@code visit}.
 */
public enum VisitColumn implements Column<VisitLine> {
    VISIT_ID(required(NAME), VisitLine::visitRef),
    PATIENT_REF(required(NAME), VisitLine::patientRef),
    DATE(required(CellType.DATE), VisitLine::date),
    PRACTITIONER(required(NAME), VisitLine::practitioner),
    ROOM(NAME, VisitLine::room),
    ATTENDANCE(required(word(Attendance.values())), VisitLine::attendance),
    METHOD_PLANNED(required(word(Method.values())), VisitLine::methodPlanned),
    EARS(required(word(Ears.values())), VisitLine::ears),
    FIRST_VISIT(ANSWER, VisitLine::firstVisit),
    HEARING_AID(ANSWER, VisitLine::hearingAid),
    /** A code that is not known here goes out as it is stored: a file must not read as if there were no caution. */
    CAUTIONS(words(Caution.values()), VisitLine::cautions) {
        @Override
        public String cell(VisitLine line) {
            return UnknownCode.beside(line.cautions(), line.unknownCautions());
        }
    },
    SOFTENER_DAYS(whole(0, Integer.MAX_VALUE), VisitLine::softenerDays),
    RIGHT_WAX_REPORTED(word(Wax.values()), line -> line.reported(Ear.RIGHT).wax()),
    RIGHT_CANAL_REPORTED(word(Canal.values()), line -> line.reported(Ear.RIGHT).canal()),
    RIGHT_DEPTH_REPORTED(word(Depth.values()), line -> line.reported(Ear.RIGHT).depth()),
    RIGHT_OCCLUSION_REPORTED(
            word(Occlusion.values()), line -> line.reported(Ear.RIGHT).occlusion()),
    LEFT_WAX_REPORTED(word(Wax.values()), line -> line.reported(Ear.LEFT).wax()),
    LEFT_CANAL_REPORTED(word(Canal.values()), line -> line.reported(Ear.LEFT).canal()),
    LEFT_DEPTH_REPORTED(word(Depth.values()), line -> line.reported(Ear.LEFT).depth()),
    LEFT_OCCLUSION_REPORTED(
            word(Occlusion.values()), line -> line.reported(Ear.LEFT).occlusion()),
    RIGHT_METHODS(words(Method.values()), line -> line.recorded(Ear.RIGHT).methods()),
    LEFT_METHODS(words(Method.values()), line -> line.recorded(Ear.LEFT).methods()),
    RIGHT_WAX_FOUND(word(Wax.values()), line -> line.recorded(Ear.RIGHT).found().wax()),
    RIGHT_CANAL_FOUND(
            word(Canal.values()), line -> line.recorded(Ear.RIGHT).found().canal()),
    RIGHT_DEPTH_FOUND(
            word(Depth.values()), line -> line.recorded(Ear.RIGHT).found().depth()),
    RIGHT_OCCLUSION_FOUND(
            word(Occlusion.values()), line -> line.recorded(Ear.RIGHT).found().occlusion()),
    LEFT_WAX_FOUND(word(Wax.values()), line -> line.recorded(Ear.LEFT).found().wax()),
    LEFT_CANAL_FOUND(
            word(Canal.values()), line -> line.recorded(Ear.LEFT).found().canal()),
    LEFT_DEPTH_FOUND(
            word(Depth.values()), line -> line.recorded(Ear.LEFT).found().depth()),
    LEFT_OCCLUSION_FOUND(
            word(Occlusion.values()), line -> line.recorded(Ear.LEFT).found().occlusion()),
    BOOKED_START(TIME, VisitLine::bookedStart),
    SLOT_MINUTES(whole(1, (int) VisitTimes.LONGEST.toMinutes()), VisitLine::slotMinutes),
    ARRIVED(TIME, VisitLine::arrived),
    CALLED_IN(TIME, VisitLine::calledIn),
    FINISHED(TIME, VisitLine::finished),
    ROOM_READY(TIME, VisitLine::roomReady),
    STOPPED_EARLY(word(StoppedEarly.values()), VisitLine::stoppedEarly),
    RIGHT_OUTCOME(word(Outcome.values()), line -> line.recorded(Ear.RIGHT).outcome()),
    LEFT_OUTCOME(word(Outcome.values()), line -> line.recorded(Ear.LEFT).outcome()),
    NOTE(TEXT, VisitLine::note);

    private final Part<VisitLine> part;

    <T> VisitColumn(CellType<T> type, Function<VisitLine, @Nullable T> value) {
        part = Part.of(name(), type, value);
    }

    /** The headings of all columns. */
    public static List<String> headings() {
        return Column.headings(values());
    }

    /** The headings of the columns without which no line can go in. */
    public static List<String> requiredHeadings() {
        return Column.required(values());
    }

    /** The cells of a line; two lines are the same content if these are equal. */
    public static List<String> cells(VisitLine line) {
        return Column.cells(line, List.of(values()));
    }

    @Override
    public Part<VisitLine> part() {
        return part;
    }

    /** Whether the column is about one ear; else it is about the whole visit. */
    public boolean isPerEar() {
        return heading().startsWith("right_") || heading().startsWith("left_");
    }
}
