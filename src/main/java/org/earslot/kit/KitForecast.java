package org.earslot.kit;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.EquipmentPool;
import org.earslot.booking.HeldPlace;
import org.earslot.booking.PortableEquipment;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.kit.InstrumentKind;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.ear.Method;
import org.earslot.kit.SetsNeeded.Sets;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Where the kit will not reach, today and on the days ahead. It warns and refuses nothing: what a booking must not take is {@link PortableEquipment}. */
@Service
public class KitForecast {

    /** How far it looks ahead. */
    public static final int WEEKS = 4;

    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final PortableEquipment units;
    private final Appointments appointments;
    private final Sessions sessions;
    private final SetsToday today;
    private final ClinicClock clock;

    KitForecast(
            InstrumentKinds kinds,
            InstrumentSets sets,
            PortableEquipment units,
            Appointments appointments,
            Sessions sessions,
            SetsToday today,
            ClinicClock clock) {
        this.kinds = kinds;
        this.sets = sets;
        this.units = units;
        this.appointments = appointments;
        this.sessions = sessions;
        this.today = today;
        this.clock = clock;
    }

    /** A kind of set that falls short. */
    public record Short(String kind, Method method, int without, LocalTime first, Optional<LocalTime> cleanAgain) {}

    /**
     * Visits that find every unit for their method out of use.
     *
     * @param appointmentIds by start
     */
    public record WithoutUnit(Method method, LocalTime first, List<UUID> appointmentIds) {}

    /** A day on which something falls short or clashes. */
    public record Day(LocalDate date, List<Short> shortSets, List<KitClash> clashes, List<WithoutUnit> withoutUnit) {

        /** Whether the kit reaches for all that is booked. */
        public boolean reaches() {
            return shortSets.isEmpty() && clashes.isEmpty() && withoutUnit.isEmpty();
        }
    }

    /** The days on which kit will not reach, from today on. */
    @Transactional(readOnly = true)
    public List<Day> ahead(ClinicId clinicId) {
        LocalDate first = clock.today(clinicId);
        Map<LocalDate, List<HeldPlace>> booked =
                appointments.findHeldPlaces(clinicId, first, first.plusWeeks(WEEKS)).stream()
                        .filter(held -> held.method() != null)
                        .collect(Collectors.groupingBy(HeldPlace::date, TreeMap::new, Collectors.toList()));
        Listed listed = listed(clinicId);
        return booked.entrySet().stream()
                .map(day -> day(day.getKey(), day.getValue(), kit(clinicId, day.getKey(), listed)))
                .filter(day -> !day.reaches())
                .toList();
    }

    /** What will not reach on one day. */
    @Transactional(readOnly = true)
    public Day on(ClinicId clinicId, LocalDate date) {
        return day(date, booked(clinicId, date), kit(clinicId, date, listed(clinicId)));
    }

    /**
     * What a visit by that method, put into that place, would lack or take from another that day.
     *
     * @param except an appointment that would be moved there; null if none is
     */
    public List<KitLack> lacks(ClinicId clinicId, AskedPlace place, Method method, @Nullable UUID except) {
        HeldPlace more = new HeldPlace(
                new UUID(0, 0),
                place.practitionerId(),
                place.roomId(),
                place.date(),
                clock.at(clinicId, place.date(), place.start().toLocalTime()),
                place.slotMinutes(),
                method,
                null,
                false,
                null);
        List<HeldPlace> others = booked(clinicId, place.date()).stream()
                .filter(held -> !held.id().equals(except))
                .toList();
        return kit(clinicId, place.date(), listed(clinicId)).lacks(more, others);
    }

    private static Day day(LocalDate date, List<HeldPlace> booked, KitOfDay kit) {
        return new Day(date, kit.shortSets(booked), kit.clashes(booked), kit.withoutUnit(booked));
    }

    private List<HeldPlace> booked(ClinicId clinicId, LocalDate date) {
        return appointments.findHeldPlaces(clinicId, date, date).stream()
                .filter(held -> held.method() != null)
                .toList();
    }

    /** What the clinic has. */
    private record Listed(List<InstrumentKind> kinds, List<InstrumentSet> sets, EquipmentPool units) {

        List<InstrumentSet> of(InstrumentKind kind) {
            return sets.stream().filter(set -> set.kindId().equals(kind.id())).toList();
        }
    }

    private Listed listed(ClinicId clinicId) {
        return new Listed(
                kinds.findByClinicIdOrderByName(clinicId).stream()
                        .filter(InstrumentKind::active)
                        .toList(),
                sets.findByClinicIdOrderByNumber(clinicId),
                units.of(clinicId));
    }

    private KitOfDay kit(ClinicId clinicId, LocalDate date, Listed listed) {
        boolean isToday = date.equals(clock.today(clinicId));
        int opens = sessions.on(clinicId, date).stream()
                .map(ClinicSession::span)
                .mapToInt(span -> KitOfDay.minute(span.from()))
                .min()
                .orElse(0);
        return new KitOfDay(
                listed.kinds().stream()
                        .map(kind -> new KitOfDay.Kind(
                                kind,
                                isToday
                                        ? today.of(clinicId, kind, listed.of(kind))
                                        : Sets.clean(listed.of(kind).size())))
                        .toList(),
                listed.units(),
                opens,
                isToday ? today.needNone(clinicId) : Set.of(),
                clock.zone(clinicId));
    }
}
