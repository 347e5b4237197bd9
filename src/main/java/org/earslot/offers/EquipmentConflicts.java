package org.earslot.offers;

import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.earslot.booking.EquipmentPool;
import org.earslot.booking.HeldPlace;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * When a visit that looks for a place would not find its movable unit.
 *
 * @param method of the visit; null for one that needs no unit
 */
record EquipmentConflicts(EquipmentPool units, @Nullable Method method) {

    /** By the wall clock, by start; {@code booked} is all that is booked on that day. */
    List<TimeSpan> during(ClinicSession session, List<HeldPlace> booked, ZoneId zone) {
        if (method == null) {
            return List.of();
        }
        if (!units.outOfUse(session.roomId(), method).isEmpty()) {
            return List.of(new TimeSpan(LocalTime.MIN, LocalTime.MAX));
        }
        return units.elsewhere(session.roomId(), method, booked).stream()
                .map(each -> span(LocalTime.ofInstant(each.from(), zone), LocalTime.ofInstant(each.to(), zone)))
                .toList();
    }

    /** One taken over from elsewhere might run past midnight: the day ends before it. */
    private static TimeSpan span(LocalTime from, LocalTime to) {
        return new TimeSpan(from, to.isAfter(from) ? to : LocalTime.MAX);
    }

    /** The parts of {@code window} in which a slot of {@code least} minutes may start, clear of those stretches. */
    static List<TimeSpan> starts(TimeSpan window, List<TimeSpan> elsewhere, int least) {
        List<TimeSpan> parts = new ArrayList<>();
        LocalTime from = window.from();
        for (TimeSpan each : elsewhere) {
            long last = minute(each.from()) - least;
            if (last >= minute(from)) {
                add(parts, from, LocalTime.ofSecondOfDay(60 * last).plusNanos(1), window.to());
            }
            from = from.isBefore(each.to()) ? each.to() : from;
        }
        add(parts, from, window.to(), window.to());
        return parts;
    }

    /** The slot cut where the next such stretch begins. */
    static int before(List<TimeSpan> elsewhere, LocalTime start, int slotMinutes) {
        return elsewhere.stream()
                .filter(each -> !each.from().isBefore(start))
                .mapToInt(each -> (int) Math.min(slotMinutes, minute(each.from()) - minute(start)))
                .min()
                .orElse(slotMinutes);
    }

    private static void add(List<TimeSpan> parts, LocalTime from, LocalTime to, LocalTime end) {
        LocalTime until = to.isBefore(end) ? to : end;
        if (from.isBefore(until)) {
            parts.add(new TimeSpan(from, until));
        }
    }

    private static long minute(LocalTime time) {
        return time.toSecondOfDay() / 60;
    }
}
