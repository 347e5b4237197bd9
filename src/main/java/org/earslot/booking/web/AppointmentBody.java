package org.earslot.booking.web;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookedPlace;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.ear.Word;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** An appointment as other programs see it; null is not known or not so. */
public record AppointmentBody(
        UUID id,
        int version,
        String status,
        boolean confirmed,
        @Nullable UUID referral,
        @Nullable UUID otherVisitKind,
        String practitioner,
        String room,
        LocalDateTime start,
        int slotMinutes,
        @Nullable String method,
        @Nullable String ears,
        boolean fitIn,
        @Nullable String attendance,
        @Nullable String cancelledBy,
        @Nullable LocalDateTime arrived,
        @Nullable LocalDateTime calledIn,
        @Nullable LocalDateTime finished,
        @Nullable LocalDateTime roomReady,
        @Nullable LocalDateTime redFlagsAsked) {

    /** Makes bodies of appointments. */
    @Component
    public static class Bodies {

        private final Practitioners practitioners;
        private final Rooms rooms;
        private final ClinicClock clock;

        Bodies(Practitioners practitioners, Rooms rooms, ClinicClock clock) {
            this.practitioners = practitioners;
            this.rooms = rooms;
            this.clock = clock;
        }

        public AppointmentBody of(Appointment appointment) {
            ClinicId clinic = appointment.clinicId();
            BookedPlace place = appointment.place();
            VisitTimes times = appointment.times();
            return new AppointmentBody(
                    appointment.id(),
                    appointment.version(),
                    appointment.status().code(),
                    appointment.confirmed(),
                    appointment.referralId().orElse(null),
                    appointment.planned().otherVisitKindId(),
                    practitioners
                            .findByClinicIdAndId(clinic, place.practitionerId())
                            .map(Practitioner::name)
                            .orElse(""),
                    rooms.findByClinicIdAndId(clinic, place.roomId())
                            .map(Room::name)
                            .orElse(""),
                    clock.local(clinic, place.start()),
                    place.slotMinutes(),
                    code(appointment.planned().method()),
                    code(appointment.planned().ears()),
                    appointment.fitIn(),
                    code(appointment.attendance().orElse(null)),
                    code(appointment.cancelledBy().orElse(null)),
                    local(clinic, times.arrived()),
                    local(clinic, times.calledIn()),
                    local(clinic, times.finished()),
                    local(clinic, times.roomReady()),
                    local(clinic, appointment.redFlagsAskedAt().orElse(null)));
        }

        private @Nullable LocalDateTime local(ClinicId clinic, @Nullable Instant instant) {
            return instant == null ? null : clock.local(clinic, instant).truncatedTo(ChronoUnit.MINUTES);
        }

        private static @Nullable String code(@Nullable Word word) {
            return word == null ? null : word.code();
        }
    }
}
