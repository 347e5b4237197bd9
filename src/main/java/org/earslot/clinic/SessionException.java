package org.earslot.clinic;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A day that departs from the weekly pattern: closed (for one practitioner or for all), or an extra session. */
@Entity
public class SessionException {

    @Id
    private UUID id;

    private ClinicId clinicId;

    @Column(name = "exception_date")
    private LocalDate date;

    private String kind;
    private @Nullable UUID practitionerId;
    private @Nullable UUID roomId;
    private @Nullable LocalTime starts;
    private @Nullable LocalTime ends;
    private @Nullable LocalTime breakStarts;
    private @Nullable LocalTime breakEnds;
    private String reason;

    protected SessionException() {}

    /** No session of {@code practitionerId} (of anyone, if null) on {@code date}. */
    public static SessionException closed(
            UUID id, ClinicId clinicId, LocalDate date, @Nullable UUID practitionerId, String reason) {
        SessionException exception = new SessionException();
        exception.id = id;
        exception.clinicId = clinicId;
        exception.date = date;
        exception.kind = "closed";
        exception.practitionerId = practitionerId;
        exception.reason = reason;
        return exception;
    }

    /** One more session on {@code date}. */
    public static SessionException extra(
            UUID id,
            ClinicId clinicId,
            LocalDate date,
            UUID practitionerId,
            UUID roomId,
            TimeSpan span,
            @Nullable TimeSpan pause,
            String reason) {
        SessionException exception = closed(id, clinicId, date, practitionerId, reason);
        exception.kind = "extra";
        exception.roomId = roomId;
        exception.starts = span.from();
        exception.ends = span.to();
        exception.breakStarts = pause == null ? null : pause.from();
        exception.breakEnds = pause == null ? null : pause.to();
        return exception;
    }

    /** Whether it takes the session of {@code practitioner} away. */
    public boolean closes(UUID practitioner) {
        return kind.equals("closed") && (practitionerId == null || practitionerId.equals(practitioner));
    }

    /** The session it adds, if it adds one. */
    public Optional<ClinicSession> extraSession() {
        if (practitionerId == null || roomId == null || starts == null || ends == null) {
            return Optional.empty();
        }
        Optional<TimeSpan> pause = breakStarts == null || breakEnds == null
                ? Optional.empty()
                : Optional.of(new TimeSpan(breakStarts, breakEnds));
        return Optional.of(new ClinicSession(id, practitionerId, roomId, date, new TimeSpan(starts, ends), pause));
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public LocalDate date() {
        return date;
    }

    public Optional<UUID> practitionerId() {
        return Optional.ofNullable(practitionerId);
    }

    public String reason() {
        return reason;
    }
}
