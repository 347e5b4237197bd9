package org.earslot.testing;

import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Opens invented clinics for tests; found by every test that starts the application. */
@Component
public class TestClinics {

    private final Clinics clinics;
    private final Policies policies;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions sessions;
    private final Clock clock;

    TestClinics(
            Clinics clinics,
            Policies policies,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions sessions,
            Clock clock) {
        this.clinics = clinics;
        this.policies = policies;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.clock = clock;
    }

    /**
     * A new clinic in Europe/London with the starting policy: P1 (all methods) in R1 and P2 (microsuction only) in R2,
     * Monday to Friday 09:00 to 17:00 with a break 13:00 to 13:30, since 2025-01-01.
     */
    @Transactional
    public TestClinic open() {
        ClinicId clinic = ClinicId.random();
        clinics.save(new Clinic(clinic, "Test clinic", ZoneId.of("Europe/London"), clock.instant()));
        policies.save(Policy.starting(clinic));
        UUID p1 = practitioner(clinic, "P1", Ear.RIGHT, EnumSet.allOf(Method.class));
        UUID p2 = practitioner(clinic, "P2", Ear.LEFT, EnumSet.of(Method.MICROSUCTION));
        UUID r1 = rooms.save(new Room(UUID.randomUUID(), clinic, "R1")).id();
        UUID r2 = rooms.save(new Room(UUID.randomUUID(), clinic, "R2")).id();
        for (DayOfWeek day : List.of(
                DayOfWeek.MONDAY, DayOfWeek.TUESDAY, DayOfWeek.WEDNESDAY, DayOfWeek.THURSDAY, DayOfWeek.FRIDAY)) {
            session(clinic, p1, r1, day);
            session(clinic, p2, r2, day);
        }
        return new TestClinic(clinic, p1, p2, r1, r2);
    }

    private UUID practitioner(ClinicId clinic, String name, Ear hand, Set<Method> methods) {
        return practitioners
                .save(new Practitioner(UUID.randomUUID(), clinic, name, hand, methods))
                .id();
    }

    private void session(ClinicId clinic, UUID practitioner, UUID room, DayOfWeek day) {
        sessions.save(new WeeklySession(
                UUID.randomUUID(),
                clinic,
                practitioner,
                room,
                day,
                new TimeSpan(LocalTime.of(9, 0), LocalTime.of(17, 0)),
                new TimeSpan(LocalTime.of(13, 0), LocalTime.of(13, 30)),
                LocalDate.of(2025, 1, 1)));
    }

    /** The ids of a clinic that a test has opened. */
    public record TestClinic(ClinicId id, UUID p1, UUID p2, UUID r1, UUID r2) {}
}
