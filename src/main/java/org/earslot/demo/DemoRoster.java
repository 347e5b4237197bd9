package org.earslot.demo;

import java.time.LocalDate;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** Sets up who works in the demo clinic, in which rooms, and in which weekly sessions. */
@Component
@Profile("demo")
class DemoRoster {

    /** How long before today the weekly sessions began: as long as the demo's log reaches back. */
    private static final int WEEKS_BACK = 80;

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions sessions;

    DemoRoster(Practitioners practitioners, Rooms rooms, WeeklySessions sessions) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
    }

    /** The ids of practitioners and rooms by their names. */
    Map<String, UUID> setUp(ClinicId clinicId, SeedClinic seed, LocalDate today) {
        Map<String, UUID> ids = new HashMap<>();
        seed.practitioners().forEach(person -> ids.put(person.name(), practitioner(clinicId, person)));
        seed.rooms()
                .forEach(room -> ids.put(
                        room.name(),
                        rooms.save(new Room(UUID.randomUUID(), clinicId, room.name()))
                                .id()));
        seed.sessions()
                .forEach(session -> sessions.save(new WeeklySession(
                        UUID.randomUUID(),
                        clinicId,
                        ids.get(session.practitioner()),
                        ids.get(session.room()),
                        session.weekday(),
                        session.span(),
                        session.rest(),
                        today.minusWeeks(WEEKS_BACK))));
        return ids;
    }

    private UUID practitioner(ClinicId clinicId, SeedClinic.SeedPractitioner person) {
        Set<Method> methods = EnumSet.noneOf(Method.class);
        person.methods().forEach(code -> methods.add(Method.of(code).orElseThrow()));
        Ear hand = Optional.ofNullable(person.dominantHand()).flatMap(Ear::of).orElse(null);
        return practitioners
                .save(new Practitioner(UUID.randomUUID(), clinicId, person.name(), hand, methods))
                .id();
    }
}
