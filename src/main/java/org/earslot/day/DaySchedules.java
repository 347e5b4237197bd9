package org.earslot.day;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.PlannedVisit;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Session;
import org.earslot.day.DaySchedule.What;
import org.earslot.day.DaySchedule.Who;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads a day of the diary as a whole. */
@Service
public class DaySchedules {

    private final Appointments appointments;
    private final Patients patients;
    private final Visits visits;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds kinds;
    private final Sessions sessions;
    private final PlaceRules rules;
    private final RowLocks locks;
    private final ListedVisits listedVisits;
    private final SessionProjections runs;
    private final ClinicClock clock;

    DaySchedules(
            Appointments appointments,
            Patients patients,
            Visits visits,
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds kinds,
            Sessions sessions,
            PlaceRules rules,
            RowLocks locks,
            ListedVisits listedVisits,
            SessionProjections runs,
            ClinicClock clock) {
        this.appointments = appointments;
        this.patients = patients;
        this.visits = visits;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.kinds = kinds;
        this.sessions = sessions;
        this.rules = rules;
        this.locks = locks;
        this.listedVisits = listedVisits;
        this.runs = runs;
        this.clock = clock;
    }

    /** The day as it stands now; appointments entered in error are left out. */
    @Transactional(readOnly = true)
    public DaySchedule of(UUID clinicId, LocalDate date) {
        List<Appointment> day = appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinicId, date).stream()
                .filter(appointment -> appointment.status() != AppointmentStatus.ENTERED_IN_ERROR)
                .toList();
        List<ClinicSession> held = sessions.on(clinicId, date);
        Names names = names(clinicId, day);
        PolicyTerms policy = rules.policy(clinicId);
        Map<UUID, ListedVisit> visitsById = byId(listedVisits.of(clinicId, day), ListedVisit::id);
        List<Lane> lanes = Stream.concat(
                        held.stream().map(ClinicSession::practitionerId),
                        day.stream().map(appointment -> appointment.place().practitionerId()))
                .distinct()
                .map(practitioner -> lane(
                        practitioner,
                        of(held, session -> session.practitionerId().equals(practitioner)),
                        of(
                                day,
                                appointment ->
                                        appointment.place().practitionerId().equals(practitioner)),
                        visitsById,
                        names,
                        policy))
                .sorted(Comparator.comparing(Lane::practitionerName))
                .toList();
        return new DaySchedule(clinicId, date, locks.isClosed(clinicId, date), lanes);
    }

    private Lane lane(
            UUID practitioner,
            List<ClinicSession> held,
            List<Appointment> listed,
            Map<UUID, ListedVisit> all,
            Names names,
            PolicyTerms policy) {
        List<ListedVisit> visits =
                listed.stream().map(each -> all.get(each.id())).toList();
        Map<UUID, SessionProjection.Expected> expected = new HashMap<>();
        List<Session> shown = new ArrayList<>();
        for (ClinicSession session : held) {
            List<ListedVisit> inIt = of(visits, visit -> sessionOf(visit, held) == session);
            LocalTime now = timeOfTheDay(session, inIt, LocalDateTime.ofInstant(clock.now(), names.zone()));
            SessionProjection run = runs.of(session, inIt, policy, now);
            expected.putAll(run.visits());
            shown.add(new Session(session, names.room(session.roomId()), run));
        }
        List<Line> lines = listed.stream()
                .map(appointment -> names.line(
                        appointment,
                        all.get(appointment.id()),
                        sessionOf(all.get(appointment.id()), held) != null,
                        expected.get(appointment.id())))
                .toList();
        return new Lane(practitioner, names.practitioner(practitioner), shown, lines);
    }

    /** The session a visit belongs to: the one it starts in, else for a fit-in the nearest before or the first. */
    public static @Nullable ClinicSession sessionOf(ListedVisit visit, List<ClinicSession> held) {
        Optional<ClinicSession> inside = held.stream()
                .filter(session -> !visit.from().isBefore(session.span().from())
                        && visit.from().isBefore(session.span().to()))
                .findFirst();
        if (inside.isPresent() || visit.booked() != null || held.isEmpty()) {
            return inside.orElse(null);
        }
        return held.stream()
                .filter(session -> session.span().from().isBefore(visit.from()))
                .reduce((first, second) -> second)
                .orElse(held.get(0));
    }

    /** On the day itself the clock; later the end of the day, so that all that happened counts; before it none. */
    public static @Nullable LocalTime timeOfTheDay(
            ClinicSession session, List<ListedVisit> listed, LocalDateTime clock) {
        LocalDate today = clock.toLocalDate();
        if (session.date().isAfter(today)) {
            return null;
        }
        boolean began = listed.stream()
                .anyMatch(visit ->
                        visit.times().arrived() != null || visit.times().calledIn() != null);
        if (session.date().equals(today)) {
            LocalTime now = clock.toLocalTime();
            return began || now.isAfter(session.span().from()) ? now : null;
        }
        return began ? LocalTime.MAX : null;
    }

    private Names names(UUID clinicId, List<Appointment> day) {
        List<UUID> patientIds = day.stream()
                .flatMap(appointment -> appointment.patientId().stream())
                .toList();
        List<UUID> visitIds = day.stream()
                .flatMap(appointment -> appointment.visitId().stream())
                .toList();
        return new Names(
                clock.zone(clinicId),
                byId(patients.findByClinicIdAndIdIn(clinicId, patientIds), Patient::id),
                byId(visits.findAllById(visitIds), Visit::id),
                byId(practitioners.findByClinicIdOrderByName(clinicId), Practitioner::id),
                byId(rooms.findByClinicIdOrderByName(clinicId), Room::id),
                byId(kinds.findByClinicIdOrderByName(clinicId), OtherVisitKind::id));
    }

    private static <T> Map<UUID, T> byId(Collection<T> all, Function<T, UUID> id) {
        return all.stream().collect(Collectors.toMap(id, Function.identity()));
    }

    private static <T> List<T> of(Collection<T> all, Predicate<T> wanted) {
        return all.stream().filter(wanted).toList();
    }

    /** What the ids of a day stand for. */
    private record Names(
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
