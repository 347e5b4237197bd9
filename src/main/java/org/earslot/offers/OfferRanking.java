package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.HeldPlace;
import org.earslot.booking.PortableEquipment;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.day.DayLists;
import org.earslot.day.ListedVisit;
import org.earslot.offers.OfferTerms.OwnVisit;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Ranks the free places of some sessions. */
@Component
class OfferRanking {

    private final Appointments appointments;
    private final DayLists dayLists;
    private final PortableEquipment units;
    private final SessionPlanCache sessionPlanCache;

    OfferRanking(
            Appointments appointments, DayLists dayLists, PortableEquipment units, SessionPlanCache sessionPlanCache) {
        this.appointments = appointments;
        this.dayLists = dayLists;
        this.units = units;
        this.sessionPlanCache = sessionPlanCache;
    }

    /**
     * The best places in these sessions, at most {@code most}.
     *
     * @param own the visit as each practitioner takes it
     */
    List<Offer> best(
            ClinicId clinicId,
            OfferedSessions.Found open,
            WishedVisit visit,
            Map<UUID, OwnVisit> own,
            OfferTerms terms,
            LocalDate from,
            LocalDate to,
            int most) {
        List<HeldPlace> booked = open.held().isEmpty() ? List.of() : appointments.findHeldPlaces(clinicId, from, to);
        OfferSearch search = new OfferSearch(
                terms,
                open.able().values().stream().collect(Collectors.toMap(Practitioner::id, Practitioner::methods)),
                own,
                new EquipmentConflicts(units.of(clinicId), visit.method()),
                sessionPlanCache);
        UUID self = visit.movedId();
        return search.best(open.held(), booked, self, underWay(clinicId, open.held(), self, terms), most).stream()
                .map(found -> found.offer(
                        open.able().get(found.session().practitionerId()).name(),
                        open.usable().get(found.session().roomId()).name(),
                        isLast(found, booked, self, terms)))
                .toList();
    }

    /**
     * Chance that a session ends late with the visit there and nobody else booked.
     *
     * @param own the visit as the session's practitioner takes it
     */
    double lateEnd(
            ClinicId clinicId,
            ClinicSession session,
            WishedVisit visit,
            OwnVisit own,
            OfferTerms terms,
            AskedPlace at) {
        LocalDate date = session.date();
        OfferSearch search = new OfferSearch(
                terms,
                Map.of(),
                Map.of(session.practitionerId(), own),
                new EquipmentConflicts(units.of(clinicId), visit.method()),
                sessionPlanCache);
        return search.lateEnd(
                session,
                appointments.findHeldPlaces(clinicId, date, date),
                visit.movedId(),
                underWay(clinicId, List.of(session), visit.movedId(), terms).get(session.key()),
                at);
    }

    /** Today's lists of the sessions that have begun, as they are now. */
    private Map<String, List<ListedVisit>> underWay(
            ClinicId clinicId, List<ClinicSession> held, @Nullable UUID except, OfferTerms terms) {
        Map<String, List<ListedVisit>> begun = new HashMap<>();
        LocalDate today = terms.now().toLocalDate();
        for (ClinicSession session : held) {
            if (session.date().equals(today)) {
                DayLists.Day day = dayLists.of(clinicId, today, session.practitionerId());
                List<ListedVisit> listed = day.held().stream()
                        .filter(session::equals)
                        .flatMap(same -> day.in(same).stream())
                        .filter(visit -> !visit.id().equals(except))
                        .toList();
                if (RunningSessionOffers.hasBegun(session, listed, terms.now().toLocalTime())) {
                    begun.put(session.key(), listed);
                }
            }
        }
        return begun;
    }

    private static boolean isLast(
            OfferSearch.Found found, List<HeldPlace> booked, @Nullable UUID except, OfferTerms terms) {
        ClinicSession session = found.session();
        return booked.stream()
                .filter(held -> held.date().equals(session.date())
                        && held.practitionerId().equals(session.practitionerId())
                        && !held.id().equals(except))
                .map(held -> LocalDateTime.ofInstant(held.start(), terms.zone()).toLocalTime())
                .noneMatch(start -> start.isAfter(found.start())
                        && start.isBefore(session.span().to()));
    }
}
