package org.earslot.flow.past;

import java.time.LocalTime;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.earslot.flow.list.Session;
import org.hipparchus.fraction.BigFraction;

/**
 * Where the waits of a past day came from: every minute of wait, of lateness and of overtime is attributed to a source.
 *
 * <p>The list carries a debt, max(0, ready - next booked start), as a queue of parts each with its source. From one
 * visit to the next the allowance is the gap to the next booked start, not the slot; beyond it the debt rises in the
 * name of the visit, within it the oldest part is paid first. One who did not attend is a visit of length zero; a fit-in
 * has no booked start and no allowance. An early call carries credit into that visit. At a call-in
 *
 * <ul>
 *   <li>wait before the room was ready is shared over the debt in proportion to its parts (what a fit-in waits beyond
 *       the debt is its own); wait while the practitioner was free is "called in late";
 *   <li>lateness (called in - booked start) beyond the debt becomes debt: first the patient's own late arrival, the rest
 *       "called in late".
 * </ul>
 *
 * <p>Computed in whole seconds and exact fractions: for every patient the shares sum to the wait and the debt at call-in
 * to max(0, called in - booked start); the debt after the last visit is the overtime. Where one was called in before the
 * last room was ready, the practitioner is taken to have been free then.
 *
 * @param waits of those who attended, in the order called in
 * @param overtime past the session's end
 */
public record WaitSources(List<Wait> waits, List<Share> overtime) {

    private static final int SECONDS_PER_MINUTE = 60;

    /** What a delay is attributed to. */
    public enum Cause {
        /** The visit took longer than the gap to the next booked start. */
        VISIT("visit"),
        /** A visit without a slot. */
        FIT_IN("fit_in"),
        /** Booked starts out of the order of calling around one who did not attend. */
        DIARY("diary"),
        /** The session began late. */
        SESSION_START("session_start"),
        /** The patient came late. */
        LATE_ARRIVAL("late_arrival"),
        /** The practitioner was free, the patient there, and not called in. */
        CALLED_IN_LATE("called_in_late");

        private final String code;

        Cause(String code) {
            this.code = code;
        }

        /** As pages and programs write it. */
        public String code() {
            return code;
        }
    }

    /** @param visit name of the visit at the source; empty for the session */
    public record Source(Cause cause, String visit) {}

    public record Share(Source source, BigFraction minutes) {}

    /**
     * @param minutes called in minus the later of booked start and arrival, at least 0
     * @param shares of the wait, each above 0
     * @param debt at call-in, after lateness was added, each part above 0
     */
    public record Wait(String name, BigFraction minutes, List<Share> shares, List<Share> debt) {}

    public WaitSources {
        waits = List.copyOf(waits);
        overtime = List.copyOf(overtime);
    }

    /** As {@link #of(Session, LocalTime, List)}; if the first one was there in time, the session began when called in. */
    public static WaitSources of(Session session, List<RealisedVisit> visits) {
        List<RealisedVisit> order = order(visits);
        for (RealisedVisit visit : order) {
            LocalTime calledIn = visit.calledIn();
            if (calledIn != null) {
                LocalTime due = visit.booked() == null ? session.from() : visit.booked();
                boolean inTime = visit.arrived() == null || !visit.arrived().isAfter(due);
                return of(session, inTime ? calledIn : session.from(), visits);
            }
        }
        return of(session, session.from(), visits);
    }

    /**
     * @param began when the practitioner was ready for the first patient
     * @param visits in any order
     */
    public static WaitSources of(Session session, LocalTime began, List<RealisedVisit> visits) {
        return new Ledger(session, began).run(order(visits));
    }

    /** By call-in; one who did not attend stands before the first who was booked later. */
    private static List<RealisedVisit> order(List<RealisedVisit> visits) {
        List<RealisedVisit> order = new ArrayList<>();
        List<RealisedVisit> absent = new ArrayList<>();
        for (RealisedVisit visit : visits) {
            (visit.calledIn() == null ? absent : order).add(visit);
        }
        order.sort((a, b) -> Objects.requireNonNull(a.calledIn()).compareTo(Objects.requireNonNull(b.calledIn())));
        absent.sort((a, b) -> Objects.requireNonNull(a.booked()).compareTo(Objects.requireNonNull(b.booked())));
        for (RealisedVisit missing : absent) {
            int at = 0;
            while (at < order.size() && !isBookedAfter(order.get(at), missing)) {
                at++;
            }
            order.add(at, missing);
        }
        return order;
    }

    private static boolean isBookedAfter(RealisedVisit visit, RealisedVisit missing) {
        return visit.booked() != null && visit.booked().isAfter(Objects.requireNonNull(missing.booked()));
    }

    /** The minutes each source cost all patients together, in order of first appearance. */
    public Map<Source, BigFraction> totals() {
        Map<Source, BigFraction> totals = new LinkedHashMap<>();
        for (Wait wait : waits) {
            wait.shares().forEach(share -> totals.merge(share.source(), share.minutes(), BigFraction::add));
        }
        return totals;
    }

    private static BigFraction minutes(long seconds) {
        return new BigFraction(seconds, (long) SECONDS_PER_MINUTE);
    }

    /** The run through the day. Times in seconds of the day. */
    private static final class Ledger {

        private record Part(Source source, long seconds) {}

        private final Session session;
        private final Deque<Part> debt = new ArrayDeque<>();
        private final List<Wait> waits = new ArrayList<>();
        private long ready;

        Ledger(Session session, LocalTime began) {
            this.session = session;
            ready = began.toSecondOfDay();
        }

        WaitSources run(List<RealisedVisit> order) {
            long due = due(order, 0);
            settle(Math.max(0, ready - due), new Source(Cause.SESSION_START, ""));
            for (int i = 0; i < order.size(); i++) {
                RealisedVisit visit = order.get(i);
                if (visit.calledIn() != null && visit.roomReady() != null) {
                    callIn(visit, due, visit.calledIn().toSecondOfDay());
                    ready = visit.roomReady().toSecondOfDay();
                }
                due = due(order, i + 1);
                settle(Math.max(0, ready - due), source(visit));
            }
            return new WaitSources(waits, shares());
        }

        /** The booked start of a place, of a fit-in that of the next one booked, at the end the session's. */
        private long due(List<RealisedVisit> order, int from) {
            for (int i = from; i < order.size(); i++) {
                LocalTime booked = order.get(i).booked();
                if (booked != null) {
                    return booked.toSecondOfDay();
                }
            }
            return session.to().toSecondOfDay();
        }

        private static Source source(RealisedVisit visit) {
            if (visit.calledIn() == null) {
                return new Source(Cause.DIARY, visit.name());
            }
            return new Source(visit.booked() == null ? Cause.FIT_IN : Cause.VISIT, visit.name());
        }

        private void callIn(RealisedVisit visit, long due, long called) {
            boolean fitIn = visit.booked() == null;
            long free = Math.min(ready, called);
            settle(Math.max(0, free - due), new Source(Cause.CALLED_IN_LATE, visit.name()));
            long arrived = visit.arrived() == null ? due : visit.arrived().toSecondOfDay();
            long from = fitIn ? arrived : Math.max(due, arrived);
            List<Share> shares = shares(visit, Math.max(0, Math.min(called, free) - from), Math.max(0, called - from));
            long beyond = Math.max(0, called - due) - total();
            long own = fitIn ? beyond : Math.min(beyond, Math.max(0, arrived - Math.max(due, free)));
            append(new Source(fitIn ? Cause.FIT_IN : Cause.LATE_ARRIVAL, visit.name()), own);
            append(new Source(Cause.CALLED_IN_LATE, visit.name()), beyond - own);
            waits.add(new Wait(visit.name(), minutes(Math.max(0, called - from)), shares, shares()));
        }

        /** @param before the part of the wait before the practitioner was free */
        private List<Share> shares(RealisedVisit visit, long before, long wait) {
            List<Share> shares = new ArrayList<>();
            long total = total();
            long shared = Math.min(before, total);
            if (shared > 0) {
                BigFraction rate = new BigFraction(shared, total);
                debt.forEach(part -> shares.add(
                        new Share(part.source(), minutes(part.seconds()).multiply(rate))));
            }
            add(shares, new Source(Cause.FIT_IN, visit.name()), before - shared);
            add(shares, new Source(Cause.CALLED_IN_LATE, visit.name()), wait - before);
            return List.copyOf(shares);
        }

        private static void add(List<Share> shares, Source source, long seconds) {
            if (seconds > 0) {
                shares.add(new Share(source, minutes(seconds)));
            }
        }

        private List<Share> shares() {
            return debt.stream()
                    .map(part -> new Share(part.source(), minutes(part.seconds())))
                    .toList();
        }

        private long total() {
            return debt.stream().mapToLong(Part::seconds).sum();
        }

        private void append(Source source, long seconds) {
            if (seconds > 0) {
                debt.addLast(new Part(source, seconds));
            }
        }

        /** Brings the debt to this sum: a rise in the name of the source, a fall paid oldest first. */
        private void settle(long sum, Source source) {
            long fall = total() - sum;
            append(source, -fall);
            while (fall > 0) {
                Part oldest = debt.removeFirst();
                long left = oldest.seconds() - fall;
                if (left > 0) {
                    debt.addFirst(new Part(oldest.source(), left));
                }
                fall -= oldest.seconds();
            }
        }
    }
}
