package org.earslot.estimate.habits;

import java.util.Map;

/**
 * How many booked visits took place, and when their patients came. What was cancelled before counts nowhere: its place
 * was free again.
 *
 * @param first booked first visits that took place or did not, {@code firstAbsent} of them did not
 * @param followUp the same of follow-ups
 * @param other the same where it is not known which it was
 * @param arrivals whole minutes from booked start to arrival (below 0: before it), within an hour: how many
 */
record AttendanceCounts(
        int first,
        int firstAbsent,
        int followUp,
        int followUpAbsent,
        int other,
        int otherAbsent,
        Map<Integer, Integer> arrivals) {

    static final AttendanceCounts NONE = new AttendanceCounts(0, 0, 0, 0, 0, 0, Map.of());

    AttendanceCounts {
        arrivals = Map.copyOf(arrivals);
    }

    int booked() {
        return first + followUp + other;
    }

    int absent() {
        return firstAbsent + followUpAbsent + otherAbsent;
    }

    int arrivedAt(int minute) {
        return arrivals.getOrDefault(minute, 0);
    }
}
