package org.earslot.flow.list;

import java.time.LocalTime;

/**
 * A break of the practitioner. It is taken before the first visit booked at or after {@code from}; while a visit runs
 * into it, it starts late, and it is cut short down to {@code leastMinutes}: the list goes on at
 * {@code max(to, ready + leastMinutes)}.
 *
 * @param from clock time
 * @param to clock time, after {@code from}
 * @param leastMinutes 0 (an overrun may eat it up) to the whole length (it is kept whole and the list moves back)
 */
public record Break(LocalTime from, LocalTime to, double leastMinutes) {

    public Break {
        if (!to.isAfter(from)) {
            throw new IllegalArgumentException(
                    "a break is from " + from + " to " + to + "; give an end after its start");
        }
        Bounds.within("least minutes of a break", leastMinutes, 0, Clock24.minutes(to) - Clock24.minutes(from));
    }

    /** A break kept whole, whatever ran before it. */
    public static Break kept(LocalTime from, LocalTime to) {
        return new Break(from, to, Clock24.minutes(to) - Clock24.minutes(from));
    }
}
