package org.earslot.booking;

import static org.earslot.booking.BookingRefusalCode.SLOT_TAKEN;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.Period;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Method;
import org.earslot.flow.plan.Costs;
import org.earslot.patient.Patients;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What a booked place must keep to. */
@Component
public class PlaceRules {

    /** The diary is open this far ahead. */
    public static final Period OPEN_AHEAD = Period.ofYears(1);

    private static final int LONGEST_SLOT = 180;

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Policies policies;
    private final Sessions sessions;
    private final ClinicClock clock;
    private final Appointments appointments;
    private final Patients patients;

    PlaceRules(
            Practitioners practitioners,
            Rooms rooms,
            Policies policies,
            Sessions sessions,
            ClinicClock clock,
            Appointments appointments,
            Patients patients) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.policies = policies;
        this.sessions = sessions;
        this.clock = clock;
        this.appointments = appointments;
        this.patients = patients;
    }

    /** The clinic's policy, or the one a clinic starts with. */
    public PolicyTerms policy(ClinicId clinicId) {
        return policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
    }

    /** Whether offers weigh the whole list, or go to the end of what is booked. */
    public boolean offersWeighList(ClinicId clinicId) {
        return policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .offersWeighList();
    }

    /** What a minute weighs in this clinic. */
    public Costs costs(ClinicId clinicId) {
        ListCosts costs = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .costs();
        return new Costs(costs.waitMinute(), costs.idleMinute(), costs.overtimeMinute());
    }

    /**
     * Every rule that the place breaks, whoever else is booked.
     *
     * @param method the method; null for another kind of visit, whose length is its own
     * @param patientId whose age the practitioner has to see; null where not known
     */
    public List<BookingRefusal> broken(
            ClinicId clinicId, AskedPlace asked, @Nullable Method method, @Nullable UUID patientId) {
        List<BookingRefusal> broken = new ArrayList<>(brokenByPeople(clinicId, asked, method, patientId));
        PolicyTerms policy = policy(clinicId);
        LocalTime start = asked.start().toLocalTime();
        int grid = policy.gridMinutes();
        if (start.getSecond() != 0 || start.getNano() != 0 || start.getMinute() % grid != 0) {
            broken.add(BookingRefusal.offGrid(
                    "start", start.truncatedTo(ChronoUnit.SECONDS).toString(), grid));
        }
        int slot = asked.slotMinutes();
        int least = method == null ? 1 : policy.leastSlotMinutes();
        int most = method == null ? LONGEST_SLOT : policy.mostSlotMinutes();
        if (slot < least || slot > most) {
            broken.add(BookingRefusal.slotLengthOutOfRange(slot, least, most));
        } else if (method != null && slot % grid != 0 && slot != least && slot != most) {
            broken.add(BookingRefusal.offGrid("slotMinutes", String.valueOf(slot), grid));
        } else {
            brokenByTime(clinicId, asked).ifPresent(broken::add);
        }
        return broken;
    }

    /** Every rule that a fit-in breaks: it needs someone who holds the method, today, and no place of its own. */
    public List<BookingRefusal> brokenByFitIn(ClinicId clinicId, AskedPlace asked, @Nullable PlannedVisit planned) {
        List<BookingRefusal> broken = new ArrayList<>(brokenByPeople(
                clinicId,
                asked,
                planned == null ? null : planned.method(),
                planned == null ? null : planned.patientId()));
        LocalDate today = clock.today(clinicId);
        if (asked.date().isBefore(today)) {
            broken.add(BookingRefusal.inThePast(asked.date(), asked.start().toLocalTime()));
        } else if (asked.date().isAfter(today.plus(OPEN_AHEAD))) {
            broken.add(BookingRefusal.tooFarAhead(asked.date(), today.plus(OPEN_AHEAD)));
        } else if (sessions.on(clinicId, asked.date()).stream()
                .noneMatch(session -> session.practitionerId().equals(asked.practitionerId())
                        && session.roomId().equals(asked.roomId()))) {
            broken.add(BookingRefusal.outsideSession(asked.date(), asked.start().toLocalTime(), asked.slotMinutes()));
        }
        return broken;
    }

    /** Whether someone else has the practitioner or the room then; to be asked while the day is held. */
    public Optional<BookingRefusal> taken(ClinicId clinicId, BookedPlace place, @Nullable UUID exceptAppointment) {
        return appointments
                        .findHolding(
                                clinicId,
                                place.date(),
                                place.practitionerId(),
                                place.roomId(),
                                place.start(),
                                place.end())
                        .stream()
                        .anyMatch(other -> !other.equals(exceptAppointment))
                ? Optional.of(BookingRefusal.of(SLOT_TAKEN))
                : Optional.empty();
    }

    /** The place as instants. */
    public BookedPlace onTheClock(ClinicId clinicId, AskedPlace asked) {
        Instant start = clock.at(clinicId, asked.date(), asked.start().toLocalTime());
        return new BookedPlace(asked.practitionerId(), asked.roomId(), asked.date(), start, asked.slotMinutes());
    }

    private List<BookingRefusal> brokenByPeople(
            ClinicId clinicId, AskedPlace asked, @Nullable Method method, @Nullable UUID patientId) {
        List<BookingRefusal> broken = new ArrayList<>();
        Optional<Practitioner> practitioner = practitioners
                .findByClinicIdAndId(clinicId, asked.practitionerId())
                .filter(Practitioner::active);
        if (practitioner.isEmpty()) {
            broken.add(BookingRefusal.unknown("practitioner"));
        } else if (method != null && !practitioner.get().methods().contains(method)) {
            broken.add(BookingRefusal.methodNotHeld(method));
        }
        practitioner
                .flatMap(who -> ageNotSeen(clinicId, who.ages(), patientId, asked.date()))
                .ifPresent(broken::add);
        if (rooms.findByClinicIdAndId(clinicId, asked.roomId())
                .filter(Room::active)
                .isEmpty()) {
            broken.add(BookingRefusal.unknown("room"));
        }
        return broken;
    }

    /** Judged on the appointment's own date; a patient whose date of birth is not known is not refused. */
    private Optional<BookingRefusal> ageNotSeen(
            ClinicId clinicId, AgeRange ages, @Nullable UUID patientId, LocalDate date) {
        return Optional.ofNullable(patientId)
                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                .flatMap(patient -> patient.details().ageOn(date))
                .filter(age -> !ages.includes(age))
                .map(age -> BookingRefusal.ageNotSeen(
                        Objects.requireNonNullElse(ages.least(), 0),
                        Objects.requireNonNullElse(ages.most(), AgeRange.OLDEST)));
    }

    private Optional<BookingRefusal> brokenByTime(ClinicId clinicId, AskedPlace asked) {
        LocalDateTime start = asked.start();
        LocalDateTime now = clock.local(clinicId, clock.now());
        LocalDate last = now.toLocalDate().plus(OPEN_AHEAD);
        if (start.isBefore(now)) {
            return Optional.of(BookingRefusal.inThePast(start.toLocalDate(), start.toLocalTime()));
        }
        if (start.toLocalDate().isAfter(last)) {
            return Optional.of(BookingRefusal.tooFarAhead(start.toLocalDate(), last));
        }
        LocalDateTime end = start.plusMinutes(asked.slotMinutes());
        BookedPlace place = onTheClock(clinicId, asked);
        if (!clock.local(clinicId, place.start()).equals(start)
                || !clock.local(clinicId, place.end()).equals(end)) {
            return Optional.of(BookingRefusal.clocksChange(start.toLocalDate()));
        }
        return insideSession(clinicId, asked, end)
                ? Optional.empty()
                : Optional.of(
                        BookingRefusal.outsideSession(start.toLocalDate(), start.toLocalTime(), asked.slotMinutes()));
    }

    private boolean insideSession(ClinicId clinicId, AskedPlace asked, LocalDateTime end) {
        if (!end.toLocalDate().equals(asked.date())) {
            return false;
        }
        TimeSpan span = new TimeSpan(asked.start().toLocalTime(), end.toLocalTime());
        return sessions.on(clinicId, asked.date()).stream()
                .anyMatch(session -> session.practitionerId().equals(asked.practitionerId())
                        && session.roomId().equals(asked.roomId())
                        && session.holds(span));
    }
}
