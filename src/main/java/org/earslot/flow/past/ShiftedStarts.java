package org.earslot.flow.past;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.ToIntFunction;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Session;

/**
 * The booked starts of a past list as they would have been with other slots. In the order they were booked:
 *
 * <ul>
 *   <li>the first start stays; what a slot grows or shrinks by, all later starts move by;
 *   <li>free time between two slots is used up before a later start is moved back; where starts move forward it is kept;
 *   <li>a slot that kept clear of a break keeps clear of it still, and no start moves forward across one;
 *   <li>a slot that would now end past the session's end, and later than it did, no longer fits: it is taken out, and the
 *       next may have its place.
 * </ul>
 *
 * With the slots as they were, every start stays and everyone fits. Slots that overlapped still do, by as much.
 *
 * @param starts seconds of the day of those that still fit, by name
 * @param noLongerFit names, in the order of the booked starts
 * @param freeMinutes of each stretch of the session between breaks: from the end of its last slot to the stretch's end
 */
record ShiftedStarts(Map<String, Long> starts, List<String> noLongerFit, List<Double> freeMinutes) {

    private static final int MINUTE = 60;

    /** A booked place, in seconds of the day. */
    private record Slot(String name, long from, long to) {

        long length() {
            return to - from;
        }
    }

    /** @param slotMinutes the slot of each by its name, 0 or more */
    static ShiftedStarts of(Session session, List<Replay.Held> held, ToIntFunction<String> slotMinutes) {
        List<Slot> before = new ArrayList<>();
        for (Replay.Held place : held) {
            LocalTime booked = place.visit().booked();
            if (booked != null) {
                long from = booked.toSecondOfDay();
                before.add(new Slot(place.visit().name(), from, from + (long) MINUTE * place.slotMinutes()));
            }
        }
        before.sort(Comparator.comparingLong(Slot::from));
        return new Layout(session).lay(before, slotMinutes);
    }

    private static final class Layout {

        private final long from;
        private final long to;
        private final List<Break> breaks;
        private final List<Slot> laid = new ArrayList<>();
        private final List<String> out = new ArrayList<>();

        Layout(Session session) {
            from = session.from().toSecondOfDay();
            to = session.to().toSecondOfDay();
            breaks = session.breaks();
        }

        ShiftedStarts lay(List<Slot> before, ToIntFunction<String> slotMinutes) {
            Slot last = null;
            // By how much the end of what is laid has moved against what was booked.
            long moved = 0;
            for (Slot slot : before) {
                long length = (long) MINUTE * slotMinutes.applyAsInt(slot.name());
                long start = last == null ? slot.from() : slot.from() + carried(last, slot, moved);
                start = clearOfBreaks(slot, start, length);
                boolean fits = start + length <= to || start + length <= slot.to();
                if (fits) {
                    laid.add(new Slot(slot.name(), start, start + length));
                } else {
                    out.add(slot.name());
                }
                moved = start + (fits ? length : 0) - slot.to();
                last = slot;
            }
            Map<String, Long> starts = new HashMap<>();
            laid.forEach(slot -> starts.put(slot.name(), slot.from()));
            return new ShiftedStarts(starts, List.copyOf(out), free());
        }

        /** How far a start moves after one whose end has moved. */
        private long carried(Slot last, Slot slot, long moved) {
            long hole = slot.from() - last.to();
            if (moved > 0) {
                return Math.max(0, moved - Math.max(0, hole));
            }
            boolean across = breaks.stream()
                    .mapToLong(each -> each.to().toSecondOfDay())
                    .anyMatch(ends -> last.from() < ends && slot.from() >= ends);
            // Nobody is asked to come before the session begins who was not.
            return Math.max(across ? 0 : moved, Math.min(0, from - slot.from()));
        }

        private long clearOfBreaks(Slot slot, long start, long length) {
            long clear = start;
            for (Break each : breaks) {
                long begins = each.from().toSecondOfDay();
                long ends = each.to().toSecondOfDay();
                boolean keptClear = slot.to() <= begins || slot.from() >= ends;
                if (keptClear && clear < ends && clear + length > begins) {
                    clear = ends;
                }
            }
            return clear;
        }

        private List<Double> free() {
            List<Double> free = new ArrayList<>();
            long begins = from;
            for (Break each : breaks) {
                free.add(free(begins, each.from().toSecondOfDay()));
                begins = each.to().toSecondOfDay();
            }
            free.add(free(begins, to));
            return List.copyOf(free);
        }

        private double free(long begins, long ends) {
            long last = laid.stream()
                    .filter(slot -> slot.from() >= begins && slot.from() < ends)
                    .mapToLong(Slot::to)
                    .max()
                    .orElse(begins);
            return Math.max(0, ends - last) / (double) MINUTE;
        }
    }

    /** The start of one that still fits, in seconds of the day. */
    long of(String name) {
        return Objects.requireNonNull(starts.get(name));
    }
}
