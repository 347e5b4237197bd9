package org.earslot.booking;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.ear.Method;

/**
 * The units a clinic counts that a method cannot do without. Each serves one room at a time; one that stands in a room
 * serves that room alone, a movable one any room with none of its own. A clinic that counts none sets no limit.
 *
 * @param units those in use
 */
public record EquipmentPool(List<KitUnit> units) {

    /** A stretch of time. */
    public record Stretch(Instant from, Instant to) {

        boolean overlaps(Instant start, Instant end) {
            return from.isBefore(end) && start.isBefore(to);
        }
    }

    public boolean anyFor(Method method) {
        return units.stream().anyMatch(unit -> unit.method().equals(Optional.of(method)));
    }

    public List<KitUnit> movable(Method method) {
        return units.stream()
                .filter(unit -> unit.method().equals(Optional.of(method)))
                .filter(unit -> unit.roomId().isEmpty())
                .toList();
    }

    /** Whether a visit by that method in that room waits for a movable unit. */
    public boolean needsMovable(UUID roomId, Method method) {
        return units.stream()
                .noneMatch(unit -> unit.method().equals(Optional.of(method))
                        && unit.roomId().equals(Optional.of(roomId)));
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
