package org.earslot.flow;

import java.time.LocalTime;
import java.util.List;
import java.util.Optional;

/** Booking at the end of the list, the rule where offers by {@link Rollout} are switched off. */
public final class Append {

    private Append() {}

    /**
     * The start after the last one booked. Each visit is given mean time in room + mean turnaround + {@code sds} of its
     * spread; the running sum is met on the grid from below, so that what one slot loses by rounding the next regains.
     *
     * @param list booked visits, in order of start; may be empty
     * @param sds from the accepted overtime, see {@link TradeOff}; -3 to 6
     * @param stepMinutes grid of the starts
     * @param needed minutes the new visit needs before the session's end
     * @return empty if the session has no room left
     */
    public static Optional<LocalTime> next(DayList list, double sds, double stepMinutes, double needed) {
        Bounds.within("share of the spread in a slot", sds, -3, 6);
        Session session = list.session();
        double at = session.fromMinutes();
        for (Place place : list.places()) {
            at = StartTimes.onGrid(session, at, 1e-6) + gap(place, sds);
        }
        double start =
                session.fromMinutes() + Math.floor((at - session.fromMinutes()) / stepMinutes + 1e-9) * stepMinutes;
        start = StartTimes.onGrid(session, Math.max(start, afterLast(list.places())), stepMinutes);
        return start + needed > session.toMinutes() + 1e-9 ? Optional.empty() : Optional.of(Clock24.time(start));
    }

    private static double gap(Place place, double sds) {
        double mean = place.inRoom().mean() + place.turnaround().mean();
        return Math.max(0, mean + sds * StartTimes.spread(place));
    }

    /** A booked slot is not booked over. */
    private static double afterLast(List<Place> places) {
        double last = 0;
        for (Place place : places) {
            if (place.booked() != null) {
                last = Math.max(last, Clock24.minutes(place.booked()) + place.slotMinutes());
            }
        }
        return last;
    }
}
