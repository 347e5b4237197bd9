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

/**
 * A stored visit as one row of a query, without the entity: the view through which the fit, the review and a clinic's
 * patterns read past visits, many at once. A column is read when it is asked for, so that a query selects only those its
 * reader needs. Valid until the query moves on to its next row. Null is "not known".
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

    private final ResultSet row;

    /** @param row at the row to be read */
    public VisitRecord(ResultSet row) {
        this.row = row;
    }

    public UUID id() throws SQLException {
        return row.getObject("id", UUID.class);
    }

    public String visitRef() throws SQLException {
        return row.getString("visit_ref");
    }

    public String patientRef() throws SQLException {
        return row.getString("patient_ref");
    }

    public LocalDate date() throws SQLException {
        return row.getObject("visit_date", LocalDate.class);
    }

    public UUID practitionerId() throws SQLException {
        return row.getObject("practitioner_id", UUID.class);
    }

    public @Nullable Attendance attendance() throws SQLException {
        return word("attendance", Attendance::of);
    }

    public Method method() throws SQLException {
        return Method.of(row.getString("method_planned")).orElseThrow();
    }

    public Ears ears() throws SQLException {
        return Ears.of(row.getString("ears")).orElseThrow();
    }

    public Answer firstVisit() throws SQLException {
        return Answer.of(row.getString("first_visit")).orElse(Answer.NOT_KNOWN);
    }

    public Answer hearingAid() throws SQLException {
        return Answer.of(row.getString("hearing_aid")).orElse(Answer.NOT_KNOWN);
    }

    /** The codes of the cautions known before, joined by semicolons. */
    public String cautionCodes() throws SQLException {
        return row.getString("cautions");
    }

    public @Nullable Integer softenerDays() throws SQLException {
        return row.getObject("softener_days", Integer.class);
    }

    public @Nullable String referrer() throws SQLException {
        return row.getString("referrer");
    }

    /** What the referral said of {@code ear}. */
    public EarFindings reported(Ear ear) throws SQLException {
        return findings(ear, "_reported");
    }

    /** What was found in {@code ear}. */
    public EarFindings found(Ear ear) throws SQLException {
        return findings(ear, "_found");
    }

    /** The codes of the methods used on {@code ear}, in order, joined by semicolons. */
    public @Nullable String methodCodes(Ear ear) throws SQLException {
        return row.getString(ear.code() + "_methods");
    }

    public @Nullable Outcome outcome(Ear ear) throws SQLException {
        return word(ear.code() + "_outcome", Outcome::of);
    }

    /** Whether anything went wrong in {@code ear}. */
    public boolean harmed(Ear ear) throws SQLException {
        String events = row.getString(ear.code() + "_adverse_events");
        return events != null && !events.equals("none");
    }

    public @Nullable Instant bookedStart() throws SQLException {
        return instant("booked_start");
    }

    public @Nullable Integer slotMinutes() throws SQLException {
        return row.getObject("slot_minutes", Integer.class);
    }

    public boolean fitIn() throws SQLException {
        return row.getBoolean("fit_in");
    }

    public @Nullable Instant arrived() throws SQLException {
        return instant("arrived");
    }

    public @Nullable Instant calledIn() throws SQLException {
        return instant("called_in");
    }

    public @Nullable Instant finished() throws SQLException {
        return instant("finished");
    }

    public @Nullable Instant roomReady() throws SQLException {
        return instant("room_ready");
    }

    /** Minutes between called in and called in again. */
    public int outsideMinutes() throws SQLException {
        return row.getInt("outside_minutes");
    }

    /** Minutes from called in to finished without those outside. Both times must be known. */
    public double minutesInRoom() throws SQLException {
        return minutes(calledIn(), finished()) - outsideMinutes();
    }

    public @Nullable StoppedEarly stoppedEarly() throws SQLException {
        return word("stopped_early", StoppedEarly::of);
    }

    public boolean timesEnteredLater() throws SQLException {
        return row.getBoolean("times_entered_later");
    }

    /** The estimate the slot was sized by, as it was stored. */
    public @Nullable String promised() throws SQLException {
        return row.getString("promised_quantiles");
    }

    /** A time that the query itself computes. */
    public @Nullable Instant instant(String column) throws SQLException {
        OffsetDateTime time = row.getObject(column, OffsetDateTime.class);
        return time == null ? null : time.toInstant();
    }

    /** Whole seconds between two times, in minutes. */
    public static double minutes(Instant from, Instant to) {
        return Duration.between(from, to).toSeconds() / 60.0;
    }

    private EarFindings findings(Ear ear, String when) throws SQLException {
        return new EarFindings(
                word(ear.code() + "_wax" + when, Wax::of),
                word(ear.code() + "_canal" + when, Canal::of),
                word(ear.code() + "_depth" + when, Depth::of),
                word(ear.code() + "_occlusion" + when, Occlusion::of));
    }

    private <W> @Nullable W word(String column, Function<String, Optional<W>> words) throws SQLException {
        String code = row.getString(column);
        return code == null ? null : words.apply(code).orElse(null);
    }
}
