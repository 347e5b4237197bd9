package org.earslot.day;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.PlaceRules;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.PolicyTerms;
import org.springframework.stereotype.Component;

/** A practitioner's day as a list that can be projected, as it stands or changed. */
@Component
public class DayLists {

    private final Appointments appointments;
    private final Sessions sessions;
    private final PlaceRules rules;
    private final ListedVisits listedVisits;
    private final ClinicClock clock;

    DayLists(
            Appointments appointments,
            Sessions sessions,
            PlaceRules rules,
            ListedVisits listedVisits,
            ClinicClock clock) {
        this.appointments = appointments;
        this.sessions = sessions;
        this.rules = rules;
        this.listedVisits = listedVisits;
        this.clock = clock;
    }

    /**
     * @param held the practitioner's sessions
     * @param appointments those who come, by their starts
     * @param visits the same as visits of a list
     * @param now the clinic's wall clock
     */
    public record Day(
            List<ClinicSession> held,
            List<Appointment> appointments,
            List<ListedVisit> visits,
            PolicyTerms policy,
            LocalDateTime now) {

        public List<ListedVisit> in(ClinicSession session) {
            return visits.stream()
                    .filter(visit -> DaySchedules.sessionOf(visit, held) == session)
                    .toList();
        }

        public SessionProjection run(ClinicSession session, List<ListedVisit> listed) {
            return SessionProjector.of(session, listed, policy, DaySchedules.timeOfTheDay(session, listed, now));
        }
    }

    public Day of(ClinicId clinicId, LocalDate date, UUID practitionerId) {
        PolicyTerms policy = rules.policy(clinicId);
        List<Appointment> coming = appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinicId, date).stream()
                .filter(each -> each.place().practitionerId().equals(practitionerId))
                .filter(each -> each.status().toCome()
                        || each.status().present()
                        || each.status() == AppointmentStatus.FULFILLED)
                .toList();
        return new Day(
                sessions.on(clinicId, date).stream()
                        .filter(session -> session.practitionerId().equals(practitionerId))
                        .toList(),
                coming,
                listedVisits.of(clinicId, coming),
                policy,
                clock.local(clinicId, clock.now()));
    }
}
