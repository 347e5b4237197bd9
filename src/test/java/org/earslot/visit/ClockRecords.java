package org.earslot.visit;

import java.time.Instant;
import org.earslot.ear.Attendance;

/** What was recorded of a visit's day, for tests of what is read from the log. */
public final class ClockRecords {

    private ClockRecords() {}

    /** Of a patient who was seen, with times taken as they happened. */
    public static ClockRecord seen(Instant calledIn, Instant finished) {
        return new ClockRecord(new VisitTimes(null, calledIn, finished, null), Attendance.ATTENDED, null, false);
    }

    /** The same with times that were corrected later. */
    public static ClockRecord corrected(Instant calledIn, Instant finished) {
        return new ClockRecord(new VisitTimes(null, calledIn, finished, null), Attendance.ATTENDED, null, true);
    }
}
