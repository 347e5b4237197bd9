package org.earslot.invented;

import java.util.ArrayList;
import java.util.List;

/**
 * An invented session as it runs under a policy's order and starts; the true times are the same under every policy.
 *
 * <p>The practitioner calls in the next on the list at the latest of: session start, the room ready after the one before,
 * the patient's arrival (set start less earliness), set start less ten minutes. Who does not attend takes no time. A visit
 * lasts the lesser of completion and a stop for comfort or safety: nobody hurries, nobody is stopped for time, so that a
 * policy that runs late is not rewarded with shorter visits.
 *
 * @param waits minutes from the later of set start and arrival to call-in, of each who attends, in list order
 * @param idle minutes the practitioner waits for a patient between session start and the last call-in
 * @param overtime minutes past the session's end until the room is ready after the last visit
 */
public record DayRun(List<Double> waits, double idle, double overtime) {

    private static final double EARLY_ALLOWANCE = 10;

    public DayRun {
        waits = List.copyOf(waits);
    }

    /** The session as it was booked: its own order and starts. */
    public static DayRun asBooked(InventedSession session) {
        int[] starts = session.visits().stream()
                .mapToInt(visit -> visit.told().bookedStart())
                .toArray();
        return of(session.visits(), starts, session.start(), session.end());
    }

    /**
     * The same patients in another order or at other starts.
     *
     * @param visits in the order of the list
     * @param starts set start of each, minutes after midnight, not falling
     * @param start of the session, minutes after midnight
     * @param end of the session
     */
    public static DayRun of(List<InventedVisit> visits, int[] starts, int start, int end) {
        if (visits.size() != starts.length) {
            throw new IllegalArgumentException(visits.size() + " visits and " + starts.length + " starts");
        }
        List<Double> waits = new ArrayList<>();
        double ready = start;
        double idle = 0;
        for (int i = 0; i < starts.length; i++) {
            InventedVisit.Truth truth = visits.get(i).truth();
            if (!truth.attends()) {
                continue;
            }
            double arrival = starts[i] - truth.earliness();
            double called = Math.max(Math.max(ready, arrival), Math.max(start, starts[i] - EARLY_ALLOWANCE));
            waits.add(Math.max(0, called - Math.max(starts[i], arrival)));
            idle += called - ready;
            ready = called + Math.min(truth.completion(), truth.comfortStop()) + truth.turnaround();
        }
        return new DayRun(waits, idle, Math.max(0, ready - end));
    }

    /** Mean of the waits, 0 if nobody attended. */
    public double meanWait() {
        return waits.stream().mapToDouble(wait -> wait).average().orElse(0);
    }
}
