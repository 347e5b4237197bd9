package org.earslot.visit;

import org.earslot.ear.Attendance;
import org.jspecify.annotations.Nullable;

/**
 * What was recorded of a visit's day, except what was found and done.
 *
 * @param attendance null while the visit is still open
 * @param minutesOutside from stepping out to being called in again, 0 to 180, other values are taken as the nearer of the
 *     two; null for a patient who was called in once
 * @param timesEnteredLater whether a time was not taken by the clock as it happened, or the span from called in to finished
 *     is no single time in the room: the fit leaves the visit out
 */
public record ClockRecord(
        VisitTimes times,
        @Nullable Attendance attendance,
        @Nullable Integer minutesOutside,
        boolean timesEnteredLater) {

    private static final int LONGEST_OUTSIDE = 180;

    public ClockRecord {
        minutesOutside = minutesOutside == null ? null : Math.min(LONGEST_OUTSIDE, Math.max(0, minutesOutside));
    }
}
