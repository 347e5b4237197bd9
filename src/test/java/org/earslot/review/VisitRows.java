package org.earslot.review;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Attendance;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Puts visits of a clinic in London straight into the database, as an import leaves them. */
public final class VisitRows {

    private final JdbcClient database;
    private final ClinicId clinic;
    private String method = "microsuction";
    private @Nullable String estimated;
    private @Nullable String wax;
    private @Nullable String ref;

    public VisitRows(JdbcClient database, ClinicId clinic) {
        this.database = database;
        this.clinic = clinic;
    }

    /** The visits added from now on are planned by {@code code}. */
    public VisitRows by(String code) {
        method = code;
        return this;
    }

    /** The visits added from now on find {@code code} in the right ear. */
    public VisitRows finding(@Nullable String code) {
        wax = code;
        return this;
    }

    /** The visits added from now on keep this estimate. */
    public VisitRows estimating(@Nullable String text) {
        estimated = text;
        return this;
    }

    /** The next visit has this id in the log; without, one drawn at random. */
    public VisitRows called(String visitRef) {
        ref = visitRef;
        return this;
    }

    public void add(
            UUID practitioner,
            LocalDate date,
            String booked,
            int slot,
            String calledIn,
            String out,
            @Nullable String ready) {
        insert(practitioner, date, Attendance.ATTENDED, booked, slot, false, calledIn, out, ready);
    }

    public void addFitIn(UUID practitioner, LocalDate date, String calledIn, String out, String ready) {
        insert(practitioner, date, Attendance.ATTENDED, null, null, true, calledIn, out, ready);
    }

    /** Someone booked for whom no times are known. */
    public void addAttendance(UUID practitioner, LocalDate date, String booked, Attendance attendance) {
        insert(practitioner, date, attendance, booked, 20, false, null, null, null);
    }

    private void insert(
            UUID practitioner,
            LocalDate date,
            Attendance attendance,
            @Nullable String booked,
            @Nullable Integer slot,
            boolean fitIn,
            @Nullable String calledIn,
            @Nullable String out,
            @Nullable String ready) {
        database.sql("""
                        insert into visit (id, clinic_id, visit_ref, patient_ref, visit_date, practitioner_id, attendance,
                          method_planned, ears, first_visit, hearing_aid, cautions, right_wax_found, booked_start,
                          slot_minutes, fit_in, called_in, finished, room_ready, times_entered_later,
                          estimated_quantiles, source, version)
                        values (:id, :clinic, :ref, 'K1', :date, :practitioner, :attendance, :method, 'right', 'no', 'no',
                          '', :wax, :booked, :slot, :fitIn, :calledIn, :out, :ready, false, :estimated, 'import', 0)""")
                .param("id", UUID.randomUUID())
                .param("clinic", clinic.value())
                .param("ref", ref == null ? UUID.randomUUID().toString() : ref)
                .param("date", date)
                .param("practitioner", practitioner)
                .param("attendance", attendance.code())
                .param("method", method)
                .param("wax", wax)
                .param("booked", at(date, booked))
                .param("slot", slot)
                .param("fitIn", fitIn)
                .param("calledIn", at(date, calledIn))
                .param("out", at(date, out))
                .param("ready", at(date, ready))
                .param("estimated", estimated)
                .update();
        ref = null;
    }

    private static @Nullable OffsetDateTime at(LocalDate date, @Nullable String time) {
        if (time == null) {
            return null;
        }
        Instant instant =
                date.atTime(LocalTime.parse(time)).atZone(ListedVisit.LONDON).toInstant();
        return instant.atOffset(ZoneOffset.UTC);
    }
}
