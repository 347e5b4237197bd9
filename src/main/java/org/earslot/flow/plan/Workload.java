package org.earslot.flow.plan;

import java.time.Duration;
import org.earslot.flow.list.Bounds;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.hipparchus.special.Erf;

/**
 * Minutes of work of several visits, who does not attend taking none: its mean, and its variance given the day's common
 * factor.
 */
record Workload(double mean, double variance) {

    static final Workload NONE = new Workload(0, 0);

    static Workload of(DayList list) {
        Workload work = NONE;
        for (Place place : list.places()) {
            work = work.plus(of(
                    place.attends(), place.inRoom().mean() + place.turnaround().mean(), StartTimes.spread(place)));
        }
        return work;
    }

    /** Of one visit of the mix. */
    static Workload of(Mix mix) {
        double total = 0;
        double mean = 0;
        double square = 0;
        for (Mix.Kind kind : mix.kinds()) {
            total += kind.weight();
            mean += kind.weight() * kind.mean();
            square += kind.weight() * (kind.mean() * kind.mean() + kind.spread() * kind.spread());
        }
        double m = mean / total;
        return of(1 - mix.didNotAttend(), m, Math.sqrt(Math.max(0, square / total - m * m)));
    }

    private static Workload of(double attends, double mean, double spread) {
        double expected = attends * mean;
        return new Workload(expected, attends * (mean * mean + spread * spread) - expected * expected);
    }

    Workload plus(Workload other) {
        return new Workload(mean + other.mean, variance + other.variance);
    }

    /** So many standard deviations above the mean, what the visits share included. */
    double upTo(double score, double commonSd) {
        return mean + score * Math.sqrt(variance + commonSd * commonSd * mean * mean);
    }

    /** Minutes of a session without its breaks. */
    static double length(Session session) {
        double length = session.toMinutes() - session.fromMinutes();
        for (Break each : session.breaks()) {
            length -= Duration.between(each.from(), each.to()).toMinutes();
        }
        return length;
    }

    /** The standard normal's point passed with that chance. */
    static double score(double chance) {
        Bounds.within("accepted chance of ending late", chance, 1e-6, 1 - 1e-6);
        return Math.sqrt(2) * Erf.erfInv(1 - 2 * chance);
    }
}
