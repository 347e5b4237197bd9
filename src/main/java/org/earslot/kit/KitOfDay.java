package org.earslot.kit;

import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.EquipmentPool;
import org.earslot.booking.HeldPlace;
import org.earslot.clinic.kit.InstrumentKind;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.ear.Method;
import org.earslot.kit.KitForecast.Short;
import org.earslot.kit.KitForecast.WithoutUnit;
import org.earslot.kit.SetsNeeded.Need;
import org.earslot.kit.SetsNeeded.Sets;

/**
 * The kit of a clinic against the visits of one day.
 *
 * @param kinds each kind with where its sets are
 * @param units those that a method cannot do without, those out of use too
 * @param opens when the first session begins, minute of the day
 * @param laidOut visits that need no clean set any more
 */
record KitOfDay(List<Kind> kinds, EquipmentPool units, int opens, Set<UUID> laidOut, ZoneId zone) {

    record Kind(InstrumentKind kind, Sets sets) {}

    /** The kinds of set that fall short. */
    List<Short> shortSets(List<HeldPlace> booked) {
        List<Short> falls = new ArrayList<>();
        for (Kind each : kinds) {
            Need need = need(each, booked);
            if (need.first() != null) {
                falls.add(new Short(
                        each.kind().name(),
                        each.kind().method(),
                        need.without(),
                        need.first(),
                        Optional.ofNullable(need.cleanAgain())));
            }
        }
        return falls;
    }

    /** The visits that find every unit for them out of use, by method. */
    List<WithoutUnit> withoutUnit(List<HeldPlace> booked) {
        return Stream.of(Method.values())
                .map(method -> booked.stream()
                        .filter(held -> held.method() == method
                                && !units.outOfUse(held.roomId(), method).isEmpty())
                        .sorted(Comparator.comparing(HeldPlace::start))
                        .toList())
                .filter(without -> !without.isEmpty())
                .map(without -> new WithoutUnit(
                        Objects.requireNonNull(without.get(0).method()),
                        start(without.get(0)),
                        without.stream().map(HeldPlace::id).toList()))
                .toList();
    }

    /** Movable units that rooms with no unit of their own for a method want at one time, once too often. */
    List<KitClash> clashes(List<HeldPlace> booked) {
        List<KitClash> clashes = new ArrayList<>();
        for (Method method : Method.values()) {
            List<KitUnit> movable = units.movable(method);
            if (!movable.isEmpty()) {
                List<HeldPlace> wanting = booked.stream()
                        .filter(held -> held.method() == method && units.needsMovable(held.roomId(), method))
                        .sorted(Comparator.comparing(HeldPlace::start))
                        .toList();
                clashes.addAll(wantedTwice(wanting, movable));
            }
        }
        return clashes;
    }

    /** What a visit more would lack, or take from another; nothing if the clinic lists no kit for its method. */
    List<KitLack> lacks(HeldPlace more, List<HeldPlace> booked) {
        Method method = more.method();
        if (method == null) {
            return List.of();
        }
        List<KitLack> lacks = new ArrayList<>();
        if (units.anyFor(method)
                && units.needsMovable(more.roomId(), method)
                && units.movable(method).isEmpty()) {
            lacks.add(new KitLack.NoUnit(method));
        }
        List<HeldPlace> then = Stream.concat(booked.stream(), Stream.of(more)).toList();
        Set<UUID> before = clashes(booked).stream().map(KitClash::appointmentId).collect(Collectors.toSet());
        clashes(then).stream()
                .filter(clash -> !before.contains(clash.appointmentId()))
                .forEach(clash -> lacks.add(new KitLack.UnitElsewhere(clash.name(), clash.freeFrom())));
        kinds.stream().filter(each -> each.kind().method() == method).forEach(each -> {
            Need need = need(each, then);
            if (need.first() != null && need.without() > need(each, booked).without()) {
                lacks.add(new KitLack.SetsShort(
                        each.kind().name(), need.first(), Optional.ofNullable(need.cleanAgain())));
            }
        });
        return lacks;
    }

    private Need need(Kind each, List<HeldPlace> booked) {
        int now = each.sets().from();
        return SetsNeeded.of(
                each.sets(),
                each.kind().cycleMinutes(),
                opens + each.kind().testMinutes(),
                booked.stream()
                        .filter(held -> held.method() == each.kind().method() && !laidOut.contains(held.id()))
                        .map(held -> {
                            int from = Math.max(now, minute(start(held)));
                            return new SetsNeeded.Visit(from, from + held.slotMinutes());
                        })
                        .toList());
    }

    private List<KitClash> wantedTwice(List<HeldPlace> wanting, List<KitUnit> movable) {
        List<KitClash> clashes = new ArrayList<>();
        for (HeldPlace held : wanting) {
            List<HeldPlace> before = wanting.stream()
                    .filter(other -> other.start().isBefore(held.start())
                            || (other.start().equals(held.start()) && other.id().compareTo(held.id()) < 0))
                    .filter(other ->
                            other.end().isAfter(held.start()) && !other.roomId().equals(held.roomId()))
                    .toList();
            if (before.size() >= movable.size()) {
                LocalTime free = before.stream()
                        .map(HeldPlace::end)
                        .min(Comparator.naturalOrder())
                        .map(instant -> LocalDateTime.ofInstant(instant, zone).toLocalTime())
                        .orElseThrow();
                clashes.add(new KitClash(movable.get(0).name(), start(held), free, held.id()));
            }
        }
        return clashes;
    }

    private LocalTime start(HeldPlace held) {
        return LocalDateTime.ofInstant(held.start(), zone).toLocalTime();
    }

    static int minute(LocalTime time) {
        return time.toSecondOfDay() / 60;
    }
}
