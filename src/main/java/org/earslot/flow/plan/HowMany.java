package org.earslot.flow.plan;

import java.util.List;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Session;

/**
 * How many visits fit a session at the accepted overtime.
 *
 * @param visits largest number for which the session ends late with at most the accepted chance; 0 if not even one
 * @param starts of that many; null-free: with 0 visits the list is empty and the prices are 0
 */
public record HowMany(int visits, StartTimes starts) {

    /**
     * @param list the visits wanted, in the order wanted; the first n of them are tried, starts set together
     * @param acceptedPastEnd P(the session ends late) not to be passed, 0 to 1
     */
    public static HowMany fit(DayList list, Costs costs, double acceptedPastEnd, StartTimes.Rules rules) {
        Bounds.within("accepted chance of ending late", acceptedPastEnd, 0, 1);
        Session session = list.session();
        int points = (int) ((session.toMinutes() - session.fromMinutes()) / rules.stepMinutes());
        int low = 0;
        int high = Math.min(points, list.places().size());
        Price nothing = new Price(0, 0, 0, 0, 0);
        StartTimes best =
                new StartTimes(list.withPlaces(List.of()), nothing, nothing, new StartTimes.Reached(0, 0, false));
        while (low < high) {
            int tried = (low + high + 1) / 2;
            StartTimes starts = StartTimes.of(list.withPlaces(list.places().subList(0, tried)), costs, rules);
            if (starts.after().pastEnd() <= acceptedPastEnd) {
                low = tried;
                best = starts;
            } else {
                high = tried - 1;
            }
        }
        return new HowMany(low, best);
    }

    /**
     * How many more visits of the mix fit beside those booked, quickly: the largest n for which the work of all of them
     * lasts longer than the session with at most the accepted chance, that work taken as normal. Idle minutes before
     * late patients are left out, so it errs to one visit too many rather than too few.
     *
     * @param booked a plan
     * @param acceptedPastEnd above 0, below 1
     */
    public static int more(DayList booked, Mix mix, double acceptedPastEnd) {
        Workload work = Workload.of(booked);
        Workload usual = Workload.of(mix);
        double length = Workload.length(booked.session());
        double score = Workload.score(acceptedPastEnd);
        int more = 0;
        while (more < MOST && work.plus(usual).upTo(score, booked.commonSd()) <= length) {
            work = work.plus(usual);
            more++;
        }
        return more;
    }

    private static final int MOST = 200;
}
