package org.earslot.invented;

import java.time.LocalDate;
import java.util.List;

/**
 * One practitioner's list on one day: the material that list policies are tried on.
 *
 * <p>For any policy the patients, their attendance, arrival and true times stay the same ({@link InventedVisit.Truth}):
 * a policy only sets the starts (and, where allowed, the order) from {@link InventedVisit.Told}, which {@link
 * InventedTable#asked} turns into a question to the estimator; {@link DayRun} says what came of it.
 *
 * @param start minutes after midnight
 * @param end booked end of the session, minutes after midnight
 * @param visits in the order booked, those who did not attend among them
 */
public record InventedSession(LocalDate date, int practitioner, int start, int end, List<InventedVisit> visits) {

    public InventedSession {
        visits = List.copyOf(visits);
    }
}
