package org.earslot.demo;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.account.DemoAccounts;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Sets the demo clinic up, with its accounts. */
@Component
@Profile("demo")
class DemoSetUp {

    /** How long before today the weekly sessions began: as long as the demo's log reaches back. */
    private static final int WEEKS_BACK = 80;

    /** Invented; the number is of a range that is never given out (Ofcom, numbers for drama use). */
    private static final ClinicContact CONTACT =
            new ClinicContact("01632 960100", "2 Larkspindle Yard\nOverwhistle", "Monday to Friday, 9:00 to 17:00");

    private final Clinics clinics;
    private final Policies policies;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions sessions;
    private final OtherVisitKinds kinds;
    private final DemoKit kit;
    private final DemoAccounts accounts;
    private final ClinicClock clock;

    DemoSetUp(
            Clinics clinics,
            Policies policies,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions sessions,
            OtherVisitKinds kinds,
            DemoKit kit,
            DemoAccounts accounts,
            ClinicClock clock) {
        this.clinics = clinics;
        this.policies = policies;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.kinds = kinds;
        this.kit = kit;
        this.accounts = accounts;
        this.clock = clock;
    }

    /** Makes the clinic, unless there is one already. */
    @Transactional
    Optional<UUID> open(SeedClinic seed) {
        if (clinics.count() > 0) {
            return Optional.empty();
        }
        UUID clinicId = UUID.randomUUID();
        Clinic clinic = Clinic.ofTheDemo(clinicId, seed.name(), ZoneId.of(seed.timeZone()), clock.now());
        clinic.reachAt(CONTACT);
        clinics.save(clinic);
        Policy policy = Policy.starting(clinicId);
        policy.settle(seed.terms());
        policies.save(policy);
        Map<String, UUID> ids = new HashMap<>();
        seed.practitioners().forEach(person -> ids.put(person.name(), practitioner(clinicId, person)));
        seed.rooms()
                .forEach(room -> ids.put(
                        room.name(),
                        rooms.save(new Room(UUID.randomUUID(), clinicId, room.name()))
                                .id()));
        LocalDate since = clock.today(clinicId).minusWeeks(WEEKS_BACK);
        seed.sessions()
                .forEach(session -> sessions.save(new WeeklySession(
                        UUID.randomUUID(),
                        clinicId,
                        ids.get(session.practitioner()),
                        ids.get(session.room()),
                        session.weekday(),
                        session.span(),
                        session.rest(),
                        since)));
        seed.otherVisits()
                .forEach(kind ->
                        kinds.save(new OtherVisitKind(UUID.randomUUID(), clinicId, kind.name(), kind.minutes())));
        kit.setUp(clinicId, seed, ids);
        accounts.open(clinicId);
        return Optional.of(clinicId);
    }

    private UUID practitioner(UUID clinicId, SeedClinic.SeedPractitioner person) {
        Set<Method> methods = EnumSet.noneOf(Method.class);
        person.methods().forEach(code -> methods.add(Method.of(code).orElseThrow()));
        Ear hand = Optional.ofNullable(person.dominantHand()).flatMap(Ear::of).orElse(null);
        return practitioners
                .save(new Practitioner(UUID.randomUUID(), clinicId, person.name(), hand, methods))
                .id();
    }
}
