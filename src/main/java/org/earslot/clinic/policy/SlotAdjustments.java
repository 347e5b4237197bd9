package org.earslot.clinic.policy;

import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;

/**
 * Minutes that the slots of some kinds of visit are given beyond what their estimates say; below 0: less.
 *
 * @param minutes by kind, -{@link #MOST} to {@link #MOST}; a kind left out has none
 */
public record SlotAdjustments(SortedMap<SlotKind, Integer> minutes) {

    /** The farthest that a slot may be moved from its estimate. */
    public static final int MOST = 60;

    /** Every slot as estimated. */
    public static final SlotAdjustments NONE = new SlotAdjustments(new TreeMap<>());

    public SlotAdjustments {
        minutes.forEach((kind, by) -> {
            if (Math.abs(by) > MOST) {
                throw new IllegalArgumentException(
                        "the slots of " + kind.code() + " are changed by " + by + "; give -" + MOST + " to " + MOST);
            }
        });
        SortedMap<SlotKind, Integer> kept = new TreeMap<>(minutes);
        kept.values().removeIf(by -> by == 0);
        minutes = Collections.unmodifiableSortedMap(kept);
    }

    /** Minutes for such a visit. */
    public int of(Method method, Ears ears) {
        return of(SlotKind.of(method, ears));
    }

    /** Minutes for this kind. */
    public int of(SlotKind kind) {
        return minutes.getOrDefault(kind, 0);
    }

    /** The same with other minutes for one kind. */
    public SlotAdjustments with(SlotKind kind, int by) {
        SortedMap<SlotKind, Integer> changed = new TreeMap<>(minutes);
        changed.put(kind, by);
        return new SlotAdjustments(changed);
    }

    /** As {@link #read} reads it: {@code microsuction-both=5;irrigation-one=-5}; empty if there are none. */
    public String text() {
        return minutes.entrySet().stream()
                .map(entry -> entry.getKey().code() + "=" + entry.getValue())
                .collect(Collectors.joining(";"));
    }

    /** Reads what {@link #text} wrote. */
    static SlotAdjustments read(String text) {
        SortedMap<SlotKind, Integer> minutes = new TreeMap<>();
        for (String each : text.split(";")) {
            int equals = each.indexOf('=');
            if (equals > 0) {
                SlotKind kind = SlotKind.of(each.substring(0, equals))
                        .orElseThrow(() -> new IllegalStateException("unknown kind of visit in " + each));
                minutes.put(kind, Integer.parseInt(each.substring(equals + 1)));
            }
        }
        return new SlotAdjustments(minutes);
    }
}
