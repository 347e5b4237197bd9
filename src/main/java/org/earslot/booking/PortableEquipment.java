package org.earslot.booking;

import java.time.Instant;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.clinic.kit.KitUnits;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * Sees to it that no booking is given a unit that is out of use, or a movable one that serves another room then. What clashes already, because it
 * was booked before the unit was counted or came in by an import, stays and is shown as a clash.
 */
@Component
public class PortableEquipment {

    private final KitUnits units;
    private final Appointments appointments;
    private final ClinicClock clock;

    PortableEquipment(KitUnits units, Appointments appointments, ClinicClock clock) {
        this.units = units;
        this.appointments = appointments;
        this.clock = clock;
    }

    public EquipmentPool of(ClinicId clinicId) {
        return new EquipmentPool(units.findByClinicIdOrderByName(clinicId));
    }

    /** Whether every unit is out of use, or serves another room then; to be asked while the day is held. */
    public Optional<BookingRefusal> taken(ClinicId clinicId, BookedPlace place, @Nullable Method method) {
        return taken(clinicId, place, method, null);
    }

    /** The same of a visit on its way to another place; one that keeps its room and its time keeps its unit. */
    public Optional<BookingRefusal> taken(Appointment moved, BookedPlace to) {
        BookedPlace from = moved.place();
        boolean stays = from.roomId().equals(to.roomId())
                && !to.start().isBefore(from.start())
                && !to.end().isAfter(from.end());
        return stays
                ? Optional.empty()
                : taken(moved.clinicId(), to, moved.planned().method(), moved.id());
    }

    private Optional<BookingRefusal> taken(
            ClinicId clinicId, BookedPlace place, @Nullable Method method, @Nullable UUID except) {
        if (method == null) {
            return Optional.empty();
        }
        EquipmentPool counted = of(clinicId);
        List<KitUnit> outOfUse = counted.outOfUse(place.roomId(), method);
        if (!outOfUse.isEmpty()) {
            LocalTime wanted = clock.local(clinicId, place.start()).toLocalTime();
            return Optional.of(BookingRefusal.unitOutOfUse(place.date(), wanted, names(outOfUse)));
        }
        List<KitUnit> movable = counted.movable(method);
        if (movable.isEmpty() || !counted.needsMovable(place.roomId(), method)) {
            return Optional.empty();
        }
        List<HeldPlace> others = appointments.findHeldPlaces(clinicId, place.date(), place.date()).stream()
                .filter(held -> !held.id().equals(except))
                .toList();
        List<EquipmentPool.Stretch> elsewhere = counted.elsewhere(place.roomId(), method, others);
        if (elsewhere.stream().noneMatch(each -> each.overlaps(place.start(), place.end()))) {
            return Optional.empty();
        }
        LocalTime start = clock.local(clinicId, place.start()).toLocalTime();
        LocalTime free = clock.local(clinicId, freeFrom(place, elsewhere)).toLocalTime();
        return Optional.of(BookingRefusal.unitTaken(place.date(), start, names(movable), free));
    }

    private static String names(List<KitUnit> named) {
        return named.stream().map(KitUnit::name).collect(Collectors.joining(", "));
    }

    /** From when one is free for as long as the visit takes. */
    private static Instant freeFrom(BookedPlace place, List<EquipmentPool.Stretch> elsewhere) {
        Instant from = place.start();
        for (EquipmentPool.Stretch each : elsewhere) {
            if (each.overlaps(from, from.plusSeconds(60L * place.slotMinutes()))) {
                from = each.to();
            }
        }
        return from;
    }
}
