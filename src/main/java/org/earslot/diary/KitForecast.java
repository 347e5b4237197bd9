package org.earslot.diary;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.InstrumentKind;
import org.earslot.clinic.InstrumentKinds;
import org.earslot.clinic.InstrumentSet;
import org.earslot.clinic.InstrumentSets;
import org.earslot.clinic.KitUnit;
import org.earslot.clinic.KitUnits;
import org.earslot.clinic.Sessions;
import org.earslot.diary.SetsNeeded.Need;
import org.earslot.ear.Method;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Where the kit will not reach on the days ahead. It warns; nothing is refused for it before the day. */
@Service
public class KitForecast {

    /** How far it looks ahead. */
    public static final int WEEKS = 4;

    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final KitUnits units;
    private final Appointments appointments;
    private final Sessions sessions;
    private final ClinicClock clock;

    KitForecast(
            InstrumentKinds kinds,
            InstrumentSets sets,
            KitUnits units,
            Appointments appointments,
            Sessions sessions,
            ClinicClock clock) {
        this.kinds = kinds;
        this.sets = sets;
        this.units = units;
        this.appointments = appointments;
        this.sessions = sessions;
        this.clock = clock;
    }

    /** A kind of set that falls short. */
    public record Short(String kind, int without, LocalTime first, Optional<LocalTime> cleanAgain) {}

    /** A day on which something falls short or clashes. */
    public record Day(LocalDate date, List<Short> shortSets, List<KitClash> clashes) {}

    /** The days ahead on which kit will not reach. */
    @Transactional(readOnly = true)
    public List<Day> ahead(UUID clinicId) {
        LocalDate today = clock.today(clinicId);
        LocalDate last = today.plusWeeks(WEEKS);
        Map<LocalDate, List<HeldPlace>> booked = appointments.findHeldPlaces(clinicId, today, last).stream()
                .filter(held -> held.method() != null)
                .collect(Collectors.groupingBy(HeldPlace::date, TreeMap::new, Collectors.toList()));
        Map<UUID, Long> counts = sets.findByClinicIdOrderByNumber(clinicId).stream()
                .collect(Collectors.groupingBy(InstrumentSet::kindId, Collectors.counting()));
        List<InstrumentKind> known = kinds.findByClinicIdOrderByName(clinicId);
        List<KitUnit> kit = units.findByClinicIdOrderByName(clinicId).stream()
                .filter(KitUnit::active)
                .toList();
        return booked.entrySet().stream()
                .map(day -> new Day(
                        day.getKey(),
                        shortSets(clinicId, day.getKey(), day.getValue(), known, counts),
                        clashes(clinicId, day.getValue(), kit)))
                .filter(day -> !day.shortSets().isEmpty() || !day.clashes().isEmpty())
                .toList();
    }

    private List<Short> shortSets(
            UUID clinicId, LocalDate date, List<HeldPlace> booked, List<InstrumentKind> known, Map<UUID, Long> counts) {
        int opens = sessions.on(clinicId, date).stream()
                .map(ClinicSession::span)
                .mapToInt(span -> minute(span.from()))
                .min()
                .orElse(0);
        List<Short> falls = new ArrayList<>();
        for (InstrumentKind kind : known) {
            Need need = SetsNeeded.of(
                    counts.getOrDefault(kind.id(), 0L).intValue(),
                    kind.cycleMinutes(),
                    opens + kind.testMinutes(),
                    booked.stream()
                            .filter(held -> held.method() == kind.method())
                            .map(held -> new SetsNeeded.Visit(
                                    minute(start(clinicId, held)), minute(start(clinicId, held)) + held.slotMinutes()))
                            .toList());
            if (need.first() != null) {
                falls.add(new Short(kind.name(), need.without(), need.first(), Optional.ofNullable(need.cleanAgain())));
            }
        }
        return falls;
    }

    /** Rooms with no unit of their own for a method share the movable ones. */
    private List<KitClash> clashes(UUID clinicId, List<HeldPlace> booked, List<KitUnit> kit) {
        List<KitClash> clashes = new ArrayList<>();
        for (Method method : Method.values()) {
            List<KitUnit> ofMethod = kit.stream()
                    .filter(unit -> unit.method().equals(Optional.of(method)))
                    .toList();
            List<KitUnit> movable =
                    ofMethod.stream().filter(unit -> unit.roomId().isEmpty()).toList();
            Set<UUID> own =
                    ofMethod.stream().flatMap(unit -> unit.roomId().stream()).collect(Collectors.toSet());
            if (!movable.isEmpty()) {
                List<HeldPlace> wanting = booked.stream()
                        .filter(held -> held.method() == method && !own.contains(held.roomId()))
                        .sorted(Comparator.comparing(HeldPlace::start))
                        .toList();
                clashes.addAll(wantedTwice(clinicId, wanting, movable));
            }
        }
        return clashes;
    }

    private List<KitClash> wantedTwice(UUID clinicId, List<HeldPlace> wanting, List<KitUnit> movable) {
        List<KitClash> clashes = new ArrayList<>();
        for (HeldPlace held : wanting) {
            List<HeldPlace> before = wanting.stream()
                    .filter(other -> other.start().isBefore(held.start())
                            || (other.start().equals(held.start()) && other.id().compareTo(held.id()) < 0))
                    .filter(other ->
                            end(other).isAfter(held.start()) && !other.roomId().equals(held.roomId()))
                    .toList();
            if (before.size() >= movable.size()) {
                LocalTime free = before.stream()
                        .map(KitForecast::end)
                        .min(Comparator.naturalOrder())
                        .map(instant -> clock.local(clinicId, instant).toLocalTime())
                        .orElseThrow();
                clashes.add(new KitClash(movable.get(0).name(), start(clinicId, held), free));
            }
        }
        return clashes;
    }

    private LocalTime start(UUID clinicId, HeldPlace held) {
        LocalDateTime local = clock.local(clinicId, held.start());
        return local.toLocalTime();
    }

    private static Instant end(HeldPlace held) {
        return held.start().plusSeconds(60L * held.slotMinutes());
    }

    private static int minute(LocalTime time) {
        return time.toSecondOfDay() / 60;
    }
}
