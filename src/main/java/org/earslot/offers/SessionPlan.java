package org.earslot.offers;

import java.time.Duration;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.earslot.clinic.TimeSpan;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.minutes.FixedMinutes;

/** A session's list as the search for a place plans it. */
final class SessionPlan {

    private SessionPlan() {}

    /**
     * The list from the first time on the clinic's grid on, stretches in which somebody else has the room kept free of
     * places. Such a stretch takes no time of the practitioner's.
     */
    static DayList of(DayList list, List<TimeSpan> roomTaken, int gridMinutes) {
        List<Place> places = new ArrayList<>(list.places());
        for (int i = 0; i < roomTaken.size(); i++) {
            TimeSpan span = roomTaken.get(i);
            double minutes = Math.ceil(Duration.between(span.from(), span.to()).toSeconds() / 60.0);
            places.add(Place.booked("room " + i, span.from(), minutes, new FixedMinutes(0))
                    .withAttendance(1, Arrivals.EARLY));
        }
        places.sort(Comparator.comparing(each -> each.booked() == null ? LocalTime.MIN : each.booked()));
        return new DayList(
                onGrid(list.session(), gridMinutes), places, list.earlyMinutes(), list.commonSd(), list.now());
    }

    private static Session onGrid(Session session, int gridMinutes) {
        int from = session.from().toSecondOfDay() / 60;
        int first = (from + gridMinutes - 1) / gridMinutes * gridMinutes;
        if (first == from || first >= 24 * 60) {
            return session;
        }
        LocalTime start = LocalTime.of(first / 60, first % 60);
        boolean keeps = start.isBefore(session.to())
                && session.breaks().stream().noneMatch(each -> each.from().isBefore(start));
        return keeps ? new Session(start, session.to(), session.breaks()) : session;
    }
}
