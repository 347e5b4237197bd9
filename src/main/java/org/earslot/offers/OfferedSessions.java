package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Planning;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.TimeSpan;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The sessions in which a visit may be offered. */
@Component
class OfferedSessions {

    /**
     * @param able the practitioners who may do it, by id
     * @param usable the rooms in use, by id
     * @param held the sessions, by date
     */
    record Found(Map<UUID, Practitioner> able, Map<UUID, Room> usable, List<ClinicSession> held) {

        /** Whose sessions they are. */
        List<UUID> practitioners() {
            return held.stream().map(ClinicSession::practitionerId).distinct().toList();
        }
    }

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Sessions sessions;
    private final Planning planning;
    private final RowLocks locks;

    OfferedSessions(Practitioners practitioners, Rooms rooms, Sessions sessions, Planning planning, RowLocks locks) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.planning = planning;
        this.locks = locks;
    }

    /**
     * The sessions from {@code from} to {@code to} of open days on which the visit is allowed.
     *
     * @param method of the visit; null if it is not for wax
     */
    Found find(
            ClinicId clinicId,
            SlotWish wish,
            WishedVisit visit,
            @Nullable Method method,
            LocalDate from,
            LocalDate to) {
        Map<UUID, Practitioner> able = able(clinicId, wish, method);
        Map<UUID, Room> usable = rooms.findByClinicIdOrderByName(clinicId).stream()
                .filter(Room::active)
                .collect(Collectors.toMap(Room::id, Function.identity()));
        if (from.isAfter(to)) {
            return new Found(able, usable, List.of());
        }
        Referral referral = visit.referral();
        Map<LocalDate, Boolean> suits = new HashMap<>();
        Set<LocalDate> closed = locks.closed(clinicId, from, to);
        List<ClinicSession> held = sessions.between(clinicId, from, to).stream()
                .filter(session -> able.containsKey(session.practitionerId()) && usable.containsKey(session.roomId()))
                .filter(session -> !closed.contains(session.date()) && wish.fits(session.date()))
                .filter(session -> able.get(session.practitionerId())
                        .ages()
                        .includes(visit.person().flatMap(one -> one.ageOn(session.date()))))
                .filter(session -> suits.computeIfAbsent(
                        session.date(),
                        date -> referral == null
                                || planning.unfit(referral, date).isEmpty()))
                .toList();
        return new Found(able, usable, held);
    }

    /** The session of that name in the interface for programs: its origin and its date. */
    Optional<ClinicSession> named(ClinicId clinicId, String key, LocalDate date) {
        return sessions.on(clinicId, date).stream()
                .filter(session -> session.key().equals(key))
                .findFirst();
    }

    /** The session that holds the whole place. */
    Optional<ClinicSession> holding(ClinicId clinicId, AskedPlace place) {
        LocalTime from = place.start().toLocalTime();
        LocalTime to = from.plusMinutes(place.slotMinutes());
        return sessions.on(clinicId, place.date()).stream()
                .filter(session -> session.practitionerId().equals(place.practitionerId())
                        && session.roomId().equals(place.roomId()))
                .filter(session -> to.isAfter(from) && session.holds(new TimeSpan(from, to)))
                .findFirst();
    }

    private Map<UUID, Practitioner> able(ClinicId clinicId, SlotWish wish, @Nullable Method method) {
        return practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .filter(practitioner -> method == null || practitioner.methods().contains(method))
                .filter(practitioner ->
                        wish.practitionerId() == null || practitioner.id().equals(wish.practitionerId()))
                .collect(Collectors.toMap(Practitioner::id, Function.identity()));
    }
}
