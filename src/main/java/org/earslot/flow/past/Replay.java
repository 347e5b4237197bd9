package org.earslot.flow.past;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.ToIntFunction;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Session;

/**
 * A past list run again with other slots: what would the same patients, with the same visits, have waited?
 *
 * <p>From the day as it happened each visit keeps how long it took from call-in to room ready, how early or late its
 * patient came against the booked start (one whose arrival is not known came at the booked start), and how far its
 * call-in c lay from what it had to wait for: the latest room ready before it f, the arrival a, the booked start b. With
 * the booked starts b' as {@link ShiftedStarts} moves them, in the order of calling of that day,
 *
 * <pre>
 *     c' = max(f' - max(0, f - c), a' - max(0, a - c), b' - max(0, b - c)) + max(0, c - max(f, a, b))
 *     f' = the latest c' + (ready - c) so far, at first the session's start
 * </pre>
 *
 * so that one called in early, or while another was in the room, is so again, and the time the practitioner let pass is
 * let pass again. A fit-in keeps its arrival. One who did not attend takes no time and keeps the slot. With the slots as
 * they were, c' = c to the second for everyone: the waits, the overtime and the idle minutes are those of the day.
 */
public final class Replay {

    private static final double SECONDS_PER_MINUTE = 60;

    private final Session session;
    private final List<Held> held;
    private final List<Past> order;

    /**
     * One place of the list.
     *
     * @param visit its name is unique in the list
     * @param slotMinutes 0 or more; of a fit-in it does not count
     */
    public record Held(RealisedVisit visit, int slotMinutes) {

        public Held {
            if (slotMinutes < 0) {
                throw new IllegalArgumentException("a slot of " + slotMinutes + " minutes; give 0 or more");
            }
        }
    }

    /**
     * The list as it would have run.
     *
     * @param seen in the order of calling, without those that no longer fit
     * @param noLongerFit names of the booked places whose slots would end past the session, in order of booked start
     * @param freeMinutes of each stretch of the session between breaks: from the end of its last slot to the stretch's end
     * @param overtimeMinutes from the session's end to the last room ready, at least 0
     * @param idleMinutes inside the session, breaks left out, with nobody in the room and no room being made ready
     */
    public record Outcome(
            List<Seen> seen,
            List<String> noLongerFit,
            List<Double> freeMinutes,
            double overtimeMinutes,
            double idleMinutes) {}

    /**
     * @param calledIn minutes after midnight
     * @param waitMinutes called in minus the later of booked start and arrival, at least 0
     */
    public record Seen(String name, double calledIn, double waitMinutes) {}

    /**
     * A visit that took place, in seconds of the day; what its call-in waited for less what came earlier.
     *
     * @param due booked start; of a fit-in its arrival
     * @param came against {@code due}
     */
    private record Past(
            String name,
            boolean fitIn,
            long due,
            long came,
            long lasted,
            long beforeFree,
            long beforeCame,
            long beforeDue,
            long letPass) {}

    private Replay(Session session, List<Held> held) {
        this.session = session;
        this.held = List.copyOf(held);
        this.order = past();
    }

    /** @param held in any order */
    public static Replay of(Session session, List<Held> held) {
        Set<String> names = new HashSet<>();
        for (Held place : held) {
            if (!names.add(place.visit().name())) {
                throw new IllegalArgumentException("two visits of the list have one name; give each its own");
            }
        }
        return new Replay(session, held);
    }

    private List<Past> past() {
        List<Past> past = new ArrayList<>();
        long free = session.from().toSecondOfDay();
        for (RealisedVisit visit : held.stream()
                .map(Held::visit)
                .filter(visit -> visit.calledIn() != null)
                .sorted(Comparator.comparing((RealisedVisit visit) -> Objects.requireNonNull(visit.calledIn()))
                        .thenComparing(visit -> Objects.requireNonNull(visit.roomReady())))
                .toList()) {
            long called = Objects.requireNonNull(visit.calledIn()).toSecondOfDay();
            long ready = Objects.requireNonNull(visit.roomReady()).toSecondOfDay();
            long due = Objects.requireNonNull(visit.booked() == null ? visit.arrived() : visit.booked())
                    .toSecondOfDay();
            long came = visit.arrived() == null ? due : visit.arrived().toSecondOfDay();
            past.add(new Past(
                    visit.name(),
                    visit.booked() == null,
                    due,
                    came - due,
                    ready - called,
                    Math.max(0, free - called),
                    Math.max(0, came - called),
                    Math.max(0, due - called),
                    Math.max(0, called - Math.max(free, Math.max(came, due)))));
            free = Math.max(free, ready);
        }
        return past;
    }

    /** The day with the slots as they were. */
    public Outcome asItWas() {
        Map<String, Integer> slots = new HashMap<>();
        held.forEach(place -> slots.put(place.visit().name(), place.slotMinutes()));
        return with(slots::get);
    }

    /** @param slotMinutes the slot of each booked place by its name, 0 or more */
    public Outcome with(ToIntFunction<String> slotMinutes) {
        ShiftedStarts starts = ShiftedStarts.of(session, held, slotMinutes);
        List<Seen> seen = new ArrayList<>();
        Filled filled = new Filled(session);
        long free = session.from().toSecondOfDay();
        for (Past visit : order) {
            if (!visit.fitIn() && !starts.starts().containsKey(visit.name())) {
                continue;
            }
            long due = visit.fitIn() ? visit.due() : starts.of(visit.name());
            long came = due + visit.came();
            long called =
                    Math.max(free - visit.beforeFree(), Math.max(came - visit.beforeCame(), due - visit.beforeDue()))
                            + visit.letPass();
            long ready = called + visit.lasted();
            seen.add(new Seen(visit.name(), minutes(called), minutes(Math.max(0, called - Math.max(due, came)))));
            filled.add(called, ready);
            free = Math.max(free, ready);
        }
        long overtime = seen.isEmpty() ? 0 : Math.max(0, free - session.to().toSecondOfDay());
        return new Outcome(
                List.copyOf(seen),
                starts.noLongerFit(),
                starts.freeMinutes(),
                minutes(overtime),
                minutes(filled.idle()));
    }

    private static double minutes(long seconds) {
        return seconds / SECONDS_PER_MINUTE;
    }

    /** The seconds of a session that visits fill; two at once count once. Visits are added in any order. */
    private static final class Filled {

        private final List<long[]> stretches = new ArrayList<>();
        private final List<long[]> visits = new ArrayList<>();

        Filled(Session session) {
            long from = session.from().toSecondOfDay();
            for (Break each : session.breaks()) {
                stretches.add(new long[] {from, each.from().toSecondOfDay()});
                from = each.to().toSecondOfDay();
            }
            stretches.add(new long[] {from, session.to().toSecondOfDay()});
        }

        void add(long called, long ready) {
            visits.add(new long[] {called, ready});
        }

        long idle() {
            visits.sort(Comparator.comparingLong(visit -> visit[0]));
            long idle = 0;
            for (long[] stretch : stretches) {
                long until = stretch[0];
                long busy = 0;
                for (long[] visit : visits) {
                    long start = Math.max(visit[0], until);
                    long end = Math.min(visit[1], stretch[1]);
                    if (end > start) {
                        busy += end - start;
                        until = end;
                    }
                }
                idle += stretch[1] - stretch[0] - busy;
            }
            return idle;
        }
    }
}
