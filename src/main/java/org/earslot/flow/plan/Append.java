package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;

/** Booking at the end of the list, the rule where offers by {@link Rollout} are switched off. */
public final class Append {

    private Append() {}

    /**
     * The start after the last one booked. Each visit is given mean time in room + mean turnaround + {@code sds} of its
     * spread; the running sum is met on the grid from below, so that what one slot loses by rounding the next regains.
     *
     * @param list booked visits, in order of start; may be empty
     * @param sds from the accepted overtime, see {@link #sds}; -3 to 6
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

    /**
     * The share of the spread that each visit is given so that a session full of the mix ends late with the accepted
     * chance: with n = length / mean visits, work as normal, k = z sqrt(n v + (s n m)^2) / (n sd).
     *
     * @param empty for the session and the common factor
     * @param acceptedPastEnd above 0, below 1
     */
    public static double sds(DayList empty, Mix mix, double acceptedPastEnd) {
        Workload usual = Workload.of(mix);
        double visits = Math.max(1, Workload.length(empty.session()) / usual.mean());
        double spread = Math.sqrt(usual.variance());
        double reserve = new Workload(visits * usual.mean(), visits * usual.variance())
                        .upTo(Workload.score(acceptedPastEnd), empty.commonSd())
                - visits * usual.mean();
        return spread == 0 ? 0 : Math.max(-3, Math.min(6, reserve / (visits * spread)));
    }

    /** Minutes given to a visit: its mean and so much of its spread, on the grid from below, at least one step. */
    public static double slot(Place place, double sds, double stepMinutes) {
        return Math.max(1, Math.floor(gap(place, sds) / stepMinutes + 1e-9)) * stepMinutes;
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
