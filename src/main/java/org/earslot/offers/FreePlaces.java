package org.earslot.offers;

import java.time.LocalTime;
import java.util.List;
import java.util.TreeSet;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.offers.OfferTerms.OwnVisit;

/** Where in a session a slot of a given length fits. */
final class FreePlaces {

    private FreePlaces() {}

    /**
     * The starts worth offering, by the clock: in each free stretch the first and the last start on the grid, so that
     * what is left free stays in one piece.
     *
     * @param taken stretches in which the practitioner or the room is booked, any order
     * @param window when the slot may begin: from the first time, before the second
     * @param slotMinutes its length, above 0
     * @param gridMinutes starts lie on this grid from midnight
     */
    static List<LocalTime> starts(
            ClinicSession session, List<TimeSpan> taken, TimeSpan window, int slotMinutes, int gridMinutes) {
        TreeSet<Integer> starts = new TreeSet<>();
        int last = minute(window.to()) - 1;
        for (int[] free : free(session, taken)) {
            int earliest = up(Math.max(free[0], minute(window.from())), gridMinutes);
            int latest = down(Math.min(free[1] - slotMinutes, last), gridMinutes);
            if (earliest <= latest) {
                starts.add(earliest);
                starts.add(latest);
            }
        }
        return starts.stream().map(FreePlaces::time).toList();
    }

    /** What a slot may take from {@code start} on: as much as is free, up to what was advised; at least its least. */
    static int slot(ClinicSession session, List<TimeSpan> taken, LocalTime start, OwnVisit own) {
        return free(session, taken).stream()
                .filter(free -> free[0] <= minute(start) && minute(start) < free[1])
                .mapToInt(free -> Math.min(own.most(), free[1] - minute(start)))
                .findFirst()
                .orElse(own.least());
    }

    /** Whether a slot of that length lies in a free stretch. */
    static boolean isFree(ClinicSession session, List<TimeSpan> taken, LocalTime start, int slotMinutes) {
        return free(session, taken).stream()
                .anyMatch(free -> free[0] <= minute(start) && minute(start) + slotMinutes <= free[1]);
    }

    /** The free stretches of the session, in minutes after midnight. */
    private static List<int[]> free(ClinicSession session, List<TimeSpan> taken) {
        return session.free(taken).stream()
                .map(free -> new int[] {minute(free.from()), minute(free.to())})
                .toList();
    }

    private static int up(int minute, int grid) {
        return Math.floorDiv(minute + grid - 1, grid) * grid;
    }

    private static int down(int minute, int grid) {
        return Math.floorDiv(minute, grid) * grid;
    }

    /** Rounded up, so that nothing begins before a second has passed. */
    private static int minute(LocalTime time) {
        return (int) Math.ceil(time.toSecondOfDay() / 60.0);
    }

    private static LocalTime time(int minute) {
        return LocalTime.of(minute / 60, minute % 60);
    }
}
