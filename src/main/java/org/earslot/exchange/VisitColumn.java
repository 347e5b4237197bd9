package org.earslot.exchange;

import static org.earslot.exchange.csv.CellType.ANSWER;
import static org.earslot.exchange.csv.CellType.NAME;
import static org.earslot.exchange.csv.CellType.TEXT;
import static org.earslot.exchange.csv.CellType.TIME;
import static org.earslot.exchange.csv.CellType.distinctWords;
import static org.earslot.exchange.csv.CellType.required;
import static org.earslot.exchange.csv.CellType.whole;
import static org.earslot.exchange.csv.CellType.word;
import static org.earslot.exchange.csv.CellType.words;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.ear.Answer;
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
import org.earslot.visit.VisitRecord;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/**
 * The columns of a visit log in the order in which they are written. Import, export, the rows of the database and the
 * mapping of a clinic's own headings all go by this list: a new column is a constant here and a column of the table
 * {@code visit}.
 */
public enum VisitColumn implements Column<VisitLine> {
    VISIT_ID(required(NAME), "visit_ref"),
    PATIENT_REF(required(NAME)),
    DATE(required(CellType.DATE), "visit_date"),
    PRACTITIONER(required(NAME), "practitioner_id"),
    ROOM(NAME, "room_id"),
    ATTENDANCE(required(word(Attendance.values()))),
    METHOD_PLANNED(required(word(Method.values()))),
    EARS(required(word(Ears.values()))),
    FIRST_VISIT(ANSWER),
    HEARING_AID(ANSWER),
    CAUTIONS(distinctWords(Caution.values())),
    SOFTENER_DAYS(whole(0, Integer.MAX_VALUE)),
    RIGHT_WAX_REPORTED(word(Wax.values())),
    RIGHT_CANAL_REPORTED(word(Canal.values())),
    RIGHT_DEPTH_REPORTED(word(Depth.values())),
    RIGHT_OCCLUSION_REPORTED(word(Occlusion.values())),
    LEFT_WAX_REPORTED(word(Wax.values())),
    LEFT_CANAL_REPORTED(word(Canal.values())),
    LEFT_DEPTH_REPORTED(word(Depth.values())),
    LEFT_OCCLUSION_REPORTED(word(Occlusion.values())),
    RIGHT_METHODS(words(Method.values())),
    LEFT_METHODS(words(Method.values())),
    RIGHT_WAX_FOUND(word(Wax.values())),
    RIGHT_CANAL_FOUND(word(Canal.values())),
    RIGHT_DEPTH_FOUND(word(Depth.values())),
    RIGHT_OCCLUSION_FOUND(word(Occlusion.values())),
    LEFT_WAX_FOUND(word(Wax.values())),
    LEFT_CANAL_FOUND(word(Canal.values())),
    LEFT_DEPTH_FOUND(word(Depth.values())),
    LEFT_OCCLUSION_FOUND(word(Occlusion.values())),
    BOOKED_START(TIME),
    SLOT_MINUTES(whole(1, (int) VisitTimes.LONGEST.toMinutes())),
    ARRIVED(TIME),
    CALLED_IN(TIME),
    FINISHED(TIME),
    ROOM_READY(TIME),
    STOPPED_EARLY(word(StoppedEarly.values())),
    RIGHT_OUTCOME(word(Outcome.values())),
    LEFT_OUTCOME(word(Outcome.values())),
    NOTE(TEXT);

    private final Part<VisitLine> part;
    private final String stored;

    VisitColumn(CellType<?> type) {
        this(type, "");
    }

    <T> VisitColumn(CellType<T> type, String stored) {
        part = Part.of(name(), type, line -> line.get(this));
        this.stored = stored.isEmpty() ? part.heading() : stored;
    }

    /** The column's name in the table {@code visit}. */
    String stored() {
        return stored;
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

    /**
     * The value that a line has, as the table holds it; null where it has none.
     *
     * @param zone the clinic's
     */
    @Nullable
    Object toStore(VisitLine line, ZoneId zone) {
        Object value = value(line);
        if (value instanceof LocalTime time) {
            return line.date().atTime(time).atZone(zone).toOffsetDateTime();
        }
        if (value instanceof Answer answer) {
            return answer.code();
        }
        if (type().shape() == CellType.Shape.DATE || type().shape() == CellType.Shape.WHOLE) {
            return value;
        }
        String cell = cell(line);
        return cell.isEmpty() && this != CAUTIONS ? null : cell;
    }

    /**
     * The cells in which a visit of the table goes out; times to the minute.
     *
     * @param names what goes out for the ids of practitioner and room
     */
    static List<String> cells(VisitRecord.Columns row, ZoneId zone, Function<UUID, String> names) {
        return Arrays.stream(values())
                .map(column -> column.cell(row, zone, names))
                .toList();
    }

    private String cell(VisitRecord.Columns row, ZoneId zone, Function<UUID, String> names) {
        return switch (this) {
            case PRACTITIONER, ROOM -> {
                UUID id = row.get(stored, UUID.class);
                yield id == null ? "" : names.apply(id);
            }
            case CAUTIONS -> cautions(row);
            case FINISHED ->
                Objects.toString(atLeastAMinute(CALLED_IN.minute(row, zone), FINISHED.minute(row, zone)), "");
            default ->
                switch (type().shape()) {
                    case DATE -> Objects.toString(row.get(stored, LocalDate.class), "");
                    case WHOLE -> Objects.toString(row.get(stored, Integer.class), "");
                    case TIME -> Objects.toString(minute(row, zone), "");
                    case TEXT -> Objects.toString(row.get(stored, String.class), "");
                    case WORD, WORDS -> codes(row, stored).filter(this::isWord).collect(Collectors.joining(";"));
                };
        };
    }

    private boolean isWord(String code) {
        return type().words().stream().anyMatch(word -> word.code().equals(code));
    }

    /** A code that is not known here goes out as it is stored: a file must not read as if there were no caution. */
    private static String cautions(VisitRecord.Columns row) {
        List<String> booked = codes(row, CAUTIONS.stored).toList();
        Stream<String> found = Arrays.stream(Ear.values()).flatMap(ear -> codes(row, ear.code() + "_cautions_found"));
        List<Caution> known = booked.stream()
                .flatMap(code -> Caution.of(code).stream())
                .distinct()
                .toList();
        return UnknownCode.beside(known, UnknownCode.among(Stream.concat(booked.stream(), found), Caution.values()));
    }

    private static Stream<String> codes(VisitRecord.Columns row, String column) {
        String codes = row.get(column, String.class);
        return codes == null ? Stream.empty() : Arrays.stream(codes.split(";"));
    }

    private @Nullable LocalTime minute(VisitRecord.Columns row, ZoneId zone) {
        OffsetDateTime at = row.get(stored, OffsetDateTime.class);
        return at == null ? null : at.atZoneSameInstant(zone).toLocalTime().truncatedTo(ChronoUnit.MINUTES);
    }

    /** A log knows no visit of no length, so one that began and ended within a minute is given one. */
    private static @Nullable LocalTime atLeastAMinute(@Nullable LocalTime calledIn, @Nullable LocalTime finished) {
        return finished != null && finished.equals(calledIn) ? finished.plusMinutes(1) : finished;
    }

    /** Whether the column is about one ear; else it is about the whole visit. */
    public boolean isPerEar() {
        return heading().startsWith("right_") || heading().startsWith("left_");
    }
}
