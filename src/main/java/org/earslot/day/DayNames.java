package org.earslot.day;

import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.PlannedVisit;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.What;
import org.earslot.day.DaySchedule.Who;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What the ids of a day's appointments stand for. */
@Component
class DayNames {

    private final Patients patients;
    private final Visits visits;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds kinds;
    private final ClinicClock clock;

    DayNames(
            Patients patients,
            Visits visits,
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds kinds,
            ClinicClock clock) {
        this.patients = patients;
        this.visits = visits;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.kinds = kinds;
        this.clock = clock;
    }

    OfDay of(ClinicId clinicId, List<Appointment> day) {
        List<UUID> patientIds = day.stream()
                .flatMap(appointment -> appointment.patientId().stream())
                .toList();
        List<UUID> visitIds = day.stream()
                .flatMap(appointment -> appointment.visitId().stream())
                .toList();
        return new OfDay(
                clock.local(clinicId, clock.now()),
                clock.zone(clinicId),
                byId(patients.findByClinicIdAndIdIn(clinicId, patientIds), Patient::id),
                byId(visits.findAllById(visitIds), Visit::id),
                byId(practitioners.findByClinicIdOrderByName(clinicId), Practitioner::id),
                byId(rooms.findByClinicIdOrderByName(clinicId), Room::id),
                byId(kinds.findByClinicIdOrderByName(clinicId), OtherVisitKind::id));
    }

    static <T> Map<UUID, T> byId(Collection<T> all, Function<T, UUID> id) {
        return all.stream().collect(Collectors.toMap(id, Function.identity()));
    }

    /** What the ids of a day stand for. */
    record OfDay(
            LocalDateTime now,
            ZoneId zone,
            Map<UUID, Patient> patients,
            Map<UUID, Visit> visits,
            Map<UUID, Practitioner> practitioners,
            Map<UUID, Room> rooms,
            Map<UUID, OtherVisitKind> kinds) {

        String practitioner(UUID id) {
            Practitioner known = practitioners.get(id);
            return known == null ? "–" : known.name();
        }

        String room(UUID id) {
            Room known = rooms.get(id);
            return known == null ? "–" : known.name();
        }

        Line line(
                Appointment appointment,
                ListedVisit listed,
                boolean inSession,
                SessionProjection.@Nullable Expected expected) {
            BookedPlace place = appointment.place();
            return new Line(
                    appointment.id(),
                    appointment.version(),
                    appointment.status(),
                    appointment.confirmed(),
                    appointment.fitIn(),
                    appointment.fitInReason().orElse(null),
                    listed.from(),
                    place.slotMinutes(),
                    place.practitionerId(),
                    place.roomId(),
                    room(place.roomId()),
                    who(appointment),
                    what(appointment.planned()),
                    listed.comes(),
                    inSession,
                    listed.inRoom(),
                    listed.times(),
                    appointment.attendance().orElse(null),
                    appointment.cancelledBy().orElse(null),
                    expected,
                    appointment.visitId().orElse(null),
                    recorded(appointment),
                    listed.turn(),
                    appointment.turnGiven(),
                    listed.outside(),
                    appointment
                            .comesAt()
                            .map(at -> LocalTime.ofInstant(at, zone))
                            .orElse(null),
                    appointment
                            .toldAt()
                            .map(at -> new WaitNotice(LocalTime.ofInstant(at, zone), appointment.toldMinutes()))
                            .orElse(null),
                    listed.plausible());
        }

        private Who who(Appointment appointment) {
            UUID referralId = appointment.referralId().orElse(null);
            Patient known = appointment.patientId().map(patients::get).orElse(null);
            return known == null
                    ? new Who(null, referralId, "–", "–", "–")
                    : new Who(known.id(), referralId, known.localNumber(), known.displayName(), known.initials());
        }

        private What what(PlannedVisit planned) {
            OtherVisitKind kind = planned.otherVisitKindId() == null ? null : kinds.get(planned.otherVisitKindId());
            return new What(planned.method(), planned.ears(), kind == null ? null : kind.name());
        }

        private boolean recorded(Appointment appointment) {
            Visit visit = appointment.visitId().map(visits::get).orElse(null);
            return visit != null
                    && visit.ears().each().stream()
                            .allMatch(ear -> visit.outcome(ear).isPresent());
        }
    }
}
