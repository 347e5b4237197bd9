package org.earslot.exchange;

import static org.earslot.exchange.VisitColumn.ATTENDANCE;
import static org.earslot.exchange.VisitColumn.CALLED_IN;
import static org.earslot.exchange.VisitColumn.DATE;
import static org.earslot.exchange.VisitColumn.FINISHED;
import static org.earslot.exchange.VisitColumn.METHOD_PLANNED;
import static org.earslot.exchange.VisitColumn.PATIENT_REF;
import static org.earslot.exchange.VisitColumn.PRACTITIONER;
import static org.earslot.exchange.VisitColumn.ROOM;
import static org.earslot.exchange.VisitColumn.ROOM_READY;
import static org.earslot.exchange.VisitColumn.VISIT_ID;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.earslot.ear.Attendance;
import org.earslot.ear.Method;
import org.earslot.exchange.csv.Cells;
import org.earslot.visit.VisitRecord;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/**
 * One line of a visit log: a visit of the past as files carry it, sound in itself.
 *
 * @param values by column, none where it is not known; times are clinic-local
 */
public record VisitLine(Map<VisitColumn, Object> values) {

    private static final long LONGEST_MINUTES = VisitTimes.LONGEST.toMinutes();

    public VisitLine {
        values = Collections.unmodifiableMap(new EnumMap<>(values));
    }

    /**
     * Reads the cells of one row by the rules of the log alone: no database, no set-up.
     *
     * @param zone the clinic's, for the hour that the clocks skip in spring
     * @return the line, or empty with everything that is wrong noted at the cells
     */
    static Optional<VisitLine> read(Cells cells, ZoneId zone) {
        Map<VisitColumn, Object> values = new EnumMap<>(VisitColumn.class);
        for (VisitColumn column : VisitColumn.values()) {
            Object value = column.read(cells);
            if (value instanceof LocalTime time && isSkipped(time, (LocalDate) values.get(DATE), zone)) {
                cells.fault(
                        column.heading(),
                        "the clocks skipped this time on that date",
                        "give the time that the clock showed");
            } else if (value != null) {
                values.put(column, value);
            }
        }
        checkTimes(cells, values);
        return cells.faults().isEmpty() ? Optional.of(new VisitLine(values)) : Optional.empty();
    }

    /** Whether the clinic's clocks did not show that time on that date: one hour of the year is skipped in spring. */
    private static boolean isSkipped(LocalTime time, @Nullable LocalDate date, ZoneId zone) {
        return date != null
                && zone.getRules().getValidOffsets(date.atTime(time)).isEmpty();
    }

    private static void checkTimes(Cells cells, Map<VisitColumn, Object> values) {
        Attendance attendance = (Attendance) values.get(ATTENDANCE);
        if (attendance != null && attendance.wasSeen()) {
            boolean began = !cells.cell(CALLED_IN.heading()).isEmpty();
            boolean ended = !cells.cell(FINISHED.heading()).isEmpty();
            if (ended && !began) {
                cells.fault(CALLED_IN.heading(), "finished is given, called in is not", "give both times, or neither");
            } else if (began && !ended) {
                cells.fault(FINISHED.heading(), "called in is given, finished is not", "give both times, or neither");
            }
        }
        LocalTime calledIn = (LocalTime) values.get(CALLED_IN);
        LocalTime finished = (LocalTime) values.get(FINISHED);
        if (calledIn != null && finished != null && !finished.isAfter(calledIn)) {
            cells.fault(
                    FINISHED.heading(),
                    "not after called in (" + calledIn + ")",
                    "correct whichever of the two is wrong");
        } else {
            checkSpan(cells, FINISHED, "called in", calledIn, finished);
        }
        checkSpan(cells, ROOM_READY, FINISHED.heading(), finished, (LocalTime) values.get(ROOM_READY));
    }

    private static void checkSpan(
            Cells cells, VisitColumn column, String since, @Nullable LocalTime from, @Nullable LocalTime to) {
        if (from != null && to != null && Duration.between(from, to).toMinutes() > LONGEST_MINUTES) {
            cells.fault(
                    column.heading(),
                    "more than " + LONGEST_MINUTES + " minutes after " + since + " (" + from + ")",
                    "correct the times: at most " + LONGEST_MINUTES + " minutes lie between them");
        }
    }

    /**
     * The value in {@code column}, null where it is not known.
     *
     * @param <T> the type of the column's values
     */
    @SuppressWarnings("unchecked")
    <T> @Nullable T get(VisitColumn column) {
        return (T) values.get(column);
    }

    private <T> T required(VisitColumn column) {
        return Objects.requireNonNull(this.<T>get(column));
    }

    public String visitRef() {
        return required(VISIT_ID);
    }

    public String patientRef() {
        return required(PATIENT_REF);
    }

    public LocalDate date() {
        return required(DATE);
    }

    public String practitioner() {
        return required(PRACTITIONER);
    }

    public Optional<String> room() {
        return Optional.ofNullable(get(ROOM));
    }

    public Method methodPlanned() {
        return required(METHOD_PLANNED);
    }

    /** The line as the visit that it would be in the database; names stand there for ids. */
    VisitRecord asRecord(ZoneId zone) {
        Map<String, @Nullable Object> row = new HashMap<>();
        for (VisitColumn column : VisitColumn.values()) {
            row.put(column.stored(), column.toStore(this, zone));
        }
        return new VisitRecord(new VisitRecord.Columns() {
            @Override
            public <T> @Nullable T get(String column, Class<T> type) {
                return type.cast(row.get(column));
            }
        });
    }
}
