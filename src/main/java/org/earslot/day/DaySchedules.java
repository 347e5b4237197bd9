package org.earslot.day;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.DayNames.OfDay;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Session;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads a day of the diary as a whole. */
@Service
public class DaySchedules {

    private final Appointments appointments;
    private final Sessions sessions;
    private final PlaceRules rules;
    private final RowLocks locks;
    private final ListedVisits listedVisits;
    private final SessionProjections runs;
    private final DayNames names;

    DaySchedules(
            Appointments appointments,
            Sessions sessions,
            PlaceRules rules,
            RowLocks locks,
            ListedVisits listedVisits,
            SessionProjections runs,
            DayNames names) {
        this.appointments = appointments;
        this.sessions = sessions;
        this.rules = rules;
        this.locks = locks;
        this.listedVisits = listedVisits;
        this.runs = runs;
        this.names = names;
    }

    /** The day as it stands now; appointments entered in error are left out. */
    @Transactional(readOnly = true)
    public DaySchedule of(ClinicId clinicId, LocalDate date) {
        List<Appointment> day = appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinicId, date).stream()
                .filter(appointment -> appointment.status() != AppointmentStatus.ENTERED_IN_ERROR)
                .toList();
        List<ClinicSession> held = sessions.on(clinicId, date);
        OfDay names = this.names.of(clinicId, day);
        PolicyTerms policy = rules.policy(clinicId);
        Map<UUID, ListedVisit> visitsById = DayNames.byId(listedVisits.of(clinicId, day), ListedVisit::id);
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
            OfDay names,
            PolicyTerms policy) {
        List<ListedVisit> visits =
                listed.stream().map(each -> all.get(each.id())).toList();
        Map<UUID, SessionProjection.Expected> expected = new HashMap<>();
        List<Session> shown = new ArrayList<>();
        for (ClinicSession session : held) {
            List<ListedVisit> inIt = of(visits, visit -> sessionOf(visit, held) == session);
            LocalTime now = timeOfTheDay(session, inIt, names.now());
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

    private static <T> List<T> of(Collection<T> all, Predicate<T> wanted) {
        return all.stream().filter(wanted).toList();
    }
}
