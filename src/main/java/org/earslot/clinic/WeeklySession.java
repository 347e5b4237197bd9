package org.earslot.clinic;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A session that comes back every week: who, where, from when to when, with at most one break. */
@Entity
public class WeeklySession {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID practitionerId;
    private UUID roomId;
    private int dayOfWeek;
    private LocalTime starts;
    private LocalTime ends;
    private @Nullable LocalTime breakStarts;
    private @Nullable LocalTime breakEnds;
    private LocalDate validFrom;
    private @Nullable LocalDate validTo;

    @Version
    private int version;

    protected WeeklySession() {}

    public WeeklySession(
            UUID id,
            ClinicId clinicId,
            UUID practitionerId,
            UUID roomId,
            DayOfWeek day,
            TimeSpan span,
            @Nullable TimeSpan pause,
            LocalDate validFrom) {
        this.id = id;
        this.clinicId = clinicId;
        this.practitionerId = practitionerId;
        this.roomId = roomId;
        this.dayOfWeek = day.getValue();
        this.starts = span.from();
        this.ends = span.to();
        this.breakStarts = pause == null ? null : pause.from();
        this.breakEnds = pause == null ? null : pause.to();
        this.validFrom = validFrom;
    }

    /** The last day on which the session is held. */
    public void endOn(LocalDate lastDay) {
        validTo = lastDay;
    }

    /** Whether the session is held on {@code date} by the weekly pattern. */
    public boolean heldOn(LocalDate date) {
        return date.getDayOfWeek().getValue() == dayOfWeek
                && !date.isBefore(validFrom)
                && (validTo == null || !date.isAfter(validTo));
    }

    public int version() {
        return version;
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public UUID practitionerId() {
        return practitionerId;
    }

    public UUID roomId() {
        return roomId;
    }

    public DayOfWeek day() {
        return DayOfWeek.of(dayOfWeek);
    }

    public TimeSpan span() {
        return new TimeSpan(starts, ends);
    }

    public Optional<TimeSpan> pause() {
        return breakStarts == null || breakEnds == null
                ? Optional.empty()
                : Optional.of(new TimeSpan(breakStarts, breakEnds));
    }

    public LocalDate validFrom() {
        return validFrom;
    }

    public Optional<LocalDate> validTo() {
        return Optional.ofNullable(validTo);
    }
}
