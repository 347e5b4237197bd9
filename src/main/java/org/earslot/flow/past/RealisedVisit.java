package org.earslot.flow.past;

import java.time.LocalTime;
import org.jspecify.annotations.Nullable;

/**
 * What happened with one place of a past list.
 *
 * @param name the caller's own handle
 * @param booked booked start; null for a fit-in
 * @param arrived null if not known (then taken as in time)
 * @param calledIn null if the patient did not attend
 * @param roomReady not before {@code calledIn}; null exactly where that is
 */
public record RealisedVisit(
        String name,
        @Nullable LocalTime booked,
        @Nullable LocalTime arrived,
        @Nullable LocalTime calledIn,
        @Nullable LocalTime roomReady) {

    public RealisedVisit {
        if (booked == null && (calledIn == null || arrived == null)) {
            throw new IllegalArgumentException("a fit-in was called in at " + calledIn + " having arrived at " + arrived
                    + "; give both times, or a booked start");
        }
        if ((calledIn == null) != (roomReady == null)
                || (calledIn != null && roomReady != null && roomReady.isBefore(calledIn))) {
            throw new IllegalArgumentException("a visit was called in at " + calledIn + ", room ready at " + roomReady
                    + "; give both, in this order, or neither if the patient did not attend");
        }
    }

    /** A patient who did not attend. */
    public static RealisedVisit absent(String name, LocalTime booked) {
        return new RealisedVisit(name, booked, null, null, null);
    }
}
