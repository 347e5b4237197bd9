package org.earslot.visit;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.DataRetrievalFailureException;

/**
 * A stored visit as one row of a query, without the entity: the view through which the fit, the review and a clinic's
 * patterns read past visits, many at once, and in which a line of a file that is not stored is read alike. A column is read
 * when it is asked for, so that a query selects only those its reader needs. Valid until the query moves on to its next
 * row. Null is "not known".
 */
public final class VisitRecord {

    /** The patient was seen; a condition on the table of visits. */
    public static final String SEEN = "attendance in ('attended', 'attended_late')";

    /** The patient was expected and nobody cancelled; likewise. */
    public static final String NOT_CANCELLED =
            "(attendance is null or attendance not in ('cancelled_by_patient', 'cancelled_by_clinic'))";

    /** The visit may be learnt from: seen, with both times, recorded as they happened; likewise. */
    public static final String MAY_BE_LEARNT_FROM =
            SEEN + " and called_in is not null and finished is not null and not times_entered_later";

    private final Columns row;

    /** The values of a row of the table by the names of its columns. */
    public interface Columns {

        /**
         * The value of a column.
         *
         * @param type as the column holds it: text, whole number, yes or no, date, time with offset, or id
         * @return null where there is none
         */
        <T> @Nullable T get(String column, Class<T> type);
    }

    /**
     * A row of a query's result.
     *
     * @param row at the row to be read
     */
    public VisitRecord(ResultSet row) {
        this(columns(row));
    }

    /** A visit that is not in the database, by the columns that it would have there. */
    public VisitRecord(Columns row) {
        this.row = row;
    }

    /** The columns of a query's row. */
    public static Columns columns(ResultSet row) {
        return new Columns() {
            @Override
            public <T> @Nullable T get(String column, Class<T> type) {
                try {
                    return row.getObject(column, type);
                } catch (SQLException e) {
                    throw new DataRetrievalFailureException("the column " + column + " of a visit cannot be read", e);
                }
            }
        };
    }

    /** Whether it may be learnt from, by the same rule as {@link #MAY_BE_LEARNT_FROM}. */
    public boolean mayBeLearntFrom() {
        Attendance attendance = attendance();
        boolean timed = calledIn() != null && finished() != null;
        return attendance != null && attendance.wasSeen() && timed && !timesEnteredLater();
    }

    public UUID id() {
        return row.get("id", UUID.class);
    }

    public String visitRef() {
        return text("visit_ref");
    }

    public String patientRef() {
        return text("patient_ref");
    }

    public LocalDate date() {
        return row.get("visit_date", LocalDate.class);
    }

    public UUID practitionerId() {
        return row.get("practitioner_id", UUID.class);
    }

    public @Nullable Attendance attendance() {
        return word("attendance", Attendance::of);
    }

    public Method method() {
        return Method.of(text("method_planned")).orElseThrow();
    }

    public Ears ears() {
        return Ears.of(text("ears")).orElseThrow();
    }

    public Answer firstVisit() {
        return Answer.of(text("first_visit")).orElse(Answer.NOT_KNOWN);
    }

    public Answer hearingAid() {
        return Answer.of(text("hearing_aid")).orElse(Answer.NOT_KNOWN);
    }

    /** The codes of the cautions known before, joined by semicolons. */
    public String cautionCodes() {
        return text("cautions");
    }

    public @Nullable Integer softenerDays() {
        return row.get("softener_days", Integer.class);
    }

    public @Nullable String referrer() {
        return text("referrer");
    }

    /** What the referral said of {@code ear}. */
    public EarFindings reported(Ear ear) {
        return findings(ear, "_reported");
    }

    /** What was found in {@code ear}. */
    public EarFindings found(Ear ear) {
        return findings(ear, "_found");
    }

    /** The codes of the methods used on {@code ear}, in order, joined by semicolons. */
    public @Nullable String methodCodes(Ear ear) {
        return text(ear.code() + "_methods");
    }

    public @Nullable Outcome outcome(Ear ear) {
        return word(ear.code() + "_outcome", Outcome::of);
    }

    /** Whether anything went wrong in {@code ear}. */
    public boolean harmed(Ear ear) {
        String events = text(ear.code() + "_adverse_events");
        return events != null && !events.equals("none");
    }

    public @Nullable Instant bookedStart() {
        return instant("booked_start");
    }

    public @Nullable Integer slotMinutes() {
        return row.get("slot_minutes", Integer.class);
    }

    public boolean fitIn() {
        return holds("fit_in");
    }

    public @Nullable Instant arrived() {
        return instant("arrived");
    }

    public @Nullable Instant calledIn() {
        return instant("called_in");
    }

    public @Nullable Instant finished() {
        return instant("finished");
    }

    public @Nullable Instant roomReady() {
        return instant("room_ready");
    }

    /** Minutes between called in and called in again. */
    public int outsideMinutes() {
        Integer minutes = row.get("outside_minutes", Integer.class);
        return minutes == null ? 0 : minutes;
    }

    /** Minutes from called in to finished without those outside. Both times must be known. */
    public double minutesInRoom() {
        return minutes(calledIn(), finished()) - outsideMinutes();
    }

    public @Nullable StoppedEarly stoppedEarly() {
        return word("stopped_early", StoppedEarly::of);
    }

    public boolean timesEnteredLater() {
        return holds("times_entered_later");
    }

    /** The estimate the slot was sized by, as it was stored. */
    public @Nullable String estimated() {
        return text("estimated_quantiles");
    }

    /** A time that the query itself computes. */
    public @Nullable Instant instant(String column) {
        OffsetDateTime time = row.get(column, OffsetDateTime.class);
        return time == null ? null : time.toInstant();
    }

    /** Whole seconds between two times, in minutes. */
    public static double minutes(Instant from, Instant to) {
        return Duration.between(from, to).toSeconds() / 60.0;
    }

    private @Nullable String text(String column) {
        return row.get(column, String.class);
    }

    private boolean holds(String column) {
        return Boolean.TRUE.equals(row.get(column, Boolean.class));
    }

    private EarFindings findings(Ear ear, String when) {
        return new EarFindings(
                word(ear.code() + "_wax" + when, Wax::of),
                word(ear.code() + "_canal" + when, Canal::of),
                word(ear.code() + "_depth" + when, Depth::of),
                word(ear.code() + "_occlusion" + when, Occlusion::of));
    }

    private <W> @Nullable W word(String column, Function<String, Optional<W>> words) {
        String code = text(column);
        return code == null ? null : words.apply(code).orElse(null);
    }
}
