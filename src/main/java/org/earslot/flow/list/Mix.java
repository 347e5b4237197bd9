package org.earslot.flow.list;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;

/**
 * What a clinic's visits are like: a sample of predictions, as of its own past visits.
 *
 * @param kinds at least one
 * @param didNotAttend chance of it, from 0 to 1
 * @param arrivals when patients come
 */
public record Mix(List<Kind> kinds, double didNotAttend, Arrivals arrivals) {

    /**
     * @param group what a coarse rule would tell it by ("suction, both ears"); any text
     * @param weight how common, above 0
     */
    public record Kind(String group, MinutesDistribution inRoom, MinutesDistribution turnaround, double weight) {
        public Kind {
            Bounds.positive("weight of a kind of visit", weight);
        }

        /** The mean time in the room and until it is ready again, in minutes. */
        public double mean() {
            return inRoom.mean() + turnaround.mean();
        }

        /** Its standard deviation, in minutes. */
        public double spread() {
            return Math.hypot(inRoom.standardDeviation(), turnaround.standardDeviation());
        }
    }

    /** Of patients who all attend, and come early. */
    public Mix(List<Kind> kinds) {
        this(kinds, 0, Arrivals.EARLY);
    }

    public Mix {
        kinds = List.copyOf(kinds);
        Bounds.within("chance of not attending", didNotAttend, 0, 1);
        if (kinds.isEmpty()) {
            throw new IllegalArgumentException("the mix has no visits; give at least one");
        }
    }

    /**
     * The mix cut into {@code count} equally common classes by predicted spread, smallest first. A class is taken as one
     * log-normal time, and one log-normal turnaround, with the mean and standard deviation of its members' mixture.
     */
    public List<Kind> classes(int count) {
        Bounds.within("number of classes", count, 1, 1000);
        List<Kind> sorted = new ArrayList<>(kinds);
        sorted.sort(Comparator.comparingDouble(Kind::spread));
        double total = sorted.stream().mapToDouble(Kind::weight).sum();
        List<Kind> classes = new ArrayList<>();
        double from = 0;
        for (int c = 0; c < count; c++) {
            double to = total * (c + 1) / count;
            classes.add(between(sorted, from, to, "class " + (c + 1)));
            from = to;
        }
        return classes;
    }

    private static Kind between(List<Kind> sorted, double from, double to, String name) {
        Moments time = new Moments();
        Moments turnaround = new Moments();
        double at = 0;
        for (Kind kind : sorted) {
            double share = Math.min(to, at + kind.weight()) - Math.max(from, at);
            if (share > 1e-12) {
                time.add(share, kind.inRoom());
                turnaround.add(share, kind.turnaround());
            }
            at += kind.weight();
        }
        return new Kind(name, time.logNormal(), turnaround.logNormal(), to - from);
    }

    private static final class Moments {
        private double weight;
        private double sum;
        private double squares;

        void add(double share, MinutesDistribution time) {
            double mean = time.mean();
            double sd = time.standardDeviation();
            weight += share;
            sum += share * mean;
            squares += share * (mean * mean + sd * sd);
        }

        MinutesDistribution logNormal() {
            double mean = sum / weight;
            double variance = squares / weight - mean * mean;
            if (mean <= 0 || variance <= 1e-12) {
                return new FixedMinutes(Math.max(0, mean));
            }
            return LogNormalMinutes.ofMoments(mean, Math.sqrt(variance));
        }
    }
}
