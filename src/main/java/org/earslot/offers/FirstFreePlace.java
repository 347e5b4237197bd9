package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointments;
import org.earslot.booking.ClockChange;
import org.earslot.booking.HeldPlace;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.TimeSpan;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The first place still free in the diary, with whoever it is: how soon somebody could be seen. */
@Service
public class FirstFreePlace {

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Sessions sessions;
    private final Appointments appointments;
    private final PlaceRules rules;
    private final RowLocks locks;
    private final ClinicClock clock;

    FirstFreePlace(
            Practitioners practitioners,
            Rooms rooms,
            Sessions sessions,
            Appointments appointments,
            PlaceRules rules,
            RowLocks locks,
            ClinicClock clock) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.appointments = appointments;
        this.rules = rules;
        this.locks = locks;
        this.clock = clock;
    }

    /** The start of the first free slot of that length from now on; empty where none is free for {@link Slots#WEEKS} weeks. */
    @Transactional(readOnly = true)
    public Optional<LocalDateTime> of(ClinicId clinicId, int slotMinutes) {
        LocalDate today = clock.today(clinicId);
        Set<UUID> able = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .map(Practitioner::id)
                .collect(Collectors.toSet());
        Set<UUID> usable = rooms.findByClinicIdOrderByName(clinicId).stream()
                .filter(Room::active)
                .map(Room::id)
                .collect(Collectors.toSet());
        // Week by week: a diary with a place tomorrow is not read to its end.
        for (int week = 0; week < Slots.WEEKS; week++) {
            LocalDate first = today.plusWeeks(week);
            LocalDate last = first.plusDays(6);
            Set<LocalDate> closed = locks.closed(clinicId, first, last);
            List<ClinicSession> held = sessions.between(clinicId, first, last).stream()
                    .filter(session -> able.contains(session.practitionerId())
                            && usable.contains(session.roomId())
                            && !closed.contains(session.date()))
                    .toList();
            List<HeldPlace> booked = held.isEmpty() ? List.of() : appointments.findHeldPlaces(clinicId, first, last);
            Optional<LocalDateTime> start = held.stream()
                    .flatMap(session -> starts(clinicId, session, booked, slotMinutes).stream())
                    .min(LocalDateTime::compareTo);
            if (start.isPresent()) {
                return start;
            }
        }
        return Optional.empty();
    }

    private List<LocalDateTime> starts(
            ClinicId clinicId, ClinicSession session, List<HeldPlace> booked, int slotMinutes) {
        ZoneId zone = clock.zone(clinicId);
        List<TimeSpan> taken =
                new ArrayList<>(ClockChange.in(session, zone).stream().toList());
        booked.stream()
                .filter(place -> place.date().equals(session.date()) && !place.fitIn())
                .filter(place -> place.practitionerId().equals(session.practitionerId())
                        || place.roomId().equals(session.roomId()))
                .map(place -> place.span(zone))
                .forEach(taken::add);
        LocalDateTime now = clock.local(clinicId, clock.now());
        LocalTime from = session.date().equals(now.toLocalDate()) ? now.toLocalTime() : LocalTime.MIN;
        if (!from.isBefore(session.span().to())) {
            return List.of();
        }
        TimeSpan window = new TimeSpan(from, session.span().to());
        int grid = rules.policy(clinicId).gridMinutes();
        return FreePlaces.starts(session, taken, window, slotMinutes, grid).stream()
                .map(session.date()::atTime)
                .toList();
    }
}
