package org.earslot.flow.list;

import java.time.LocalTime;

/** Clock times as minutes after midnight, and back. */
public final class Clock24 {

    private static final double NANOS_PER_MINUTE = 6e10;

    private Clock24() {}

    /** Minutes after midnight. */
    public static double minutes(LocalTime time) {
        return time.toNanoOfDay() / NANOS_PER_MINUTE;
    }

    /** To the nearest millisecond; times before midnight of the day read 00:00, those after it 23:59:59.999999999. */
    public static LocalTime time(double minutes) {
        long nanos = Math.round(minutes * 60_000) * 1_000_000;
        if (nanos < 0) {
            return LocalTime.MIN;
        }
        return nanos > LocalTime.MAX.toNanoOfDay() ? LocalTime.MAX : LocalTime.ofNanoOfDay(nanos);
    }
}
