package org.earslot.offers;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookedPlace;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** Where an appointment stood before a {@link Reschedule}. */
@Entity
@Table(name = "rearranged_visit")
class RescheduledVisit {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID rearrangementId;
    private UUID appointmentId;
    private UUID fromPractitionerId;
    private UUID fromRoomId;
    private LocalDate fromDate;
    private Instant fromStart;
    private int fromSlotMinutes;
    private @Nullable String fromEstimate;
    private @Nullable String fromEstimateVersion;
    private boolean fromConfirmed;
    private int versionAfter;

    protected RescheduledVisit() {}

    /** Remembers where {@code appointment} is now. */
    RescheduledVisit(UUID rearrangementId, Appointment appointment) {
        BookedPlace place = appointment.place();
        this.id = UUID.randomUUID();
        this.clinicId = appointment.clinicId();
        this.rearrangementId = rearrangementId;
        this.appointmentId = appointment.id();
        this.fromPractitionerId = place.practitionerId();
        this.fromRoomId = place.roomId();
        this.fromDate = place.date();
        this.fromStart = place.start();
        this.fromSlotMinutes = place.slotMinutes();
        this.fromEstimate = appointment.planned().estimate();
        this.fromEstimateVersion = appointment.planned().estimateVersion();
        this.fromConfirmed = appointment.confirmed();
    }

    /** The version the appointment had once it was moved. */
    void movedTo(int version) {
        versionAfter = version;
    }

    UUID appointmentId() {
        return appointmentId;
    }

    BookedPlace from() {
        return new BookedPlace(fromPractitionerId, fromRoomId, fromDate, fromStart, fromSlotMinutes);
    }

    @Nullable
    String estimate() {
        return fromEstimate;
    }

    @Nullable
    String estimateVersion() {
        return fromEstimateVersion;
    }

    boolean wasConfirmed() {
        return fromConfirmed;
    }

    int versionAfter() {
        return versionAfter;
    }
}
