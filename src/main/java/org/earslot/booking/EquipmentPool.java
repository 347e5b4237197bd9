package org.earslot.booking;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.ear.Method;

/**
 * The units a clinic counts that a method cannot do without. Each serves one room at a time; one that stands in a room
 * serves that room alone, a movable one any room with none of its own. A clinic that counts none sets no limit; one that
 * counts some and has them out of use does.
 *
 * @param units all that are counted, those out of use too
 */
public record EquipmentPool(List<KitUnit> units) {

    public EquipmentPool {
        units = List.copyOf(units);
    }

    /** A stretch of time. */
    public record Stretch(Instant from, Instant to) {

        boolean overlaps(Instant start, Instant end) {
            return from.isBefore(end) && start.isBefore(to);
        }
    }

    public boolean anyFor(Method method) {
        return counted(method).findAny().isPresent();
    }

    /** The movable ones in use. */
    public List<KitUnit> movable(Method method) {
        return inUse(method).filter(unit -> unit.roomId().isEmpty()).toList();
    }

    /**
     * The units whose being out of use leaves a visit by that method in that room without any; none where one in use
     * serves the room, or where none ever did while others are in use elsewhere.
     */
    public List<KitUnit> outOfUse(UUID roomId, Method method) {
        if (inUse(method).anyMatch(unit -> serves(unit, roomId))) {
            return List.of();
        }
        boolean noneInUse = inUse(method).findAny().isEmpty();
        return counted(method)
                .filter(unit -> !unit.active() && (noneInUse || serves(unit, roomId)))
                .toList();
    }

    /** Whether the clinic counts units for the method and all of them are out of use. */
    public boolean allOutOfUse(Method method) {
        return anyFor(method) && inUse(method).findAny().isEmpty();
    }

    /** Whether a visit by that method in that room waits for a movable unit. */
    public boolean needsMovable(UUID roomId, Method method) {
        return inUse(method).noneMatch(unit -> unit.roomId().equals(Optional.of(roomId)));
    }

    private Stream<KitUnit> counted(Method method) {
        return units.stream().filter(unit -> unit.method().equals(Optional.of(method)));
    }

    private Stream<KitUnit> inUse(Method method) {
        return counted(method).filter(KitUnit::active);
    }

    private static boolean serves(KitUnit unit, UUID roomId) {
        return unit.roomId().map(roomId::equals).orElse(true);
    }

    /**
     * When every movable unit serves another room, by start; none where the room has a unit of its own, or no movable one
     * is counted. Fit-ins hold no slot and so no unit.
     *
     * @param booked the places of the day, without the visit that asks
     */
    public List<Stretch> elsewhere(UUID roomId, Method method, List<HeldPlace> booked) {
        int count = movable(method).size();
        if (count == 0 || !needsMovable(roomId, method)) {
            return List.of();
        }
        List<HeldPlace> serving = booked.stream()
                .filter(held -> held.method() == method && !held.fitIn())
                .filter(held -> !held.roomId().equals(roomId) && needsMovable(held.roomId(), method))
                .toList();
        List<Instant> turns = serving.stream()
                .flatMap(held -> List.of(held.start(), held.end()).stream())
                .distinct()
                .sorted(Comparator.naturalOrder())
                .toList();
        List<Stretch> full = new ArrayList<>();
        for (int i = 0; i + 1 < turns.size(); i++) {
            Stretch each = new Stretch(turns.get(i), turns.get(i + 1));
            long taken = serving.stream()
                    .filter(held -> each.overlaps(held.start(), held.end()))
                    .count();
            if (taken >= count) {
                int last = full.size() - 1;
                if (last >= 0 && full.get(last).to().equals(each.from())) {
                    full.set(last, new Stretch(full.get(last).from(), each.to()));
                } else {
                    full.add(each);
                }
            }
        }
        return full;
    }
}
