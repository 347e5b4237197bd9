package org.earslot.flow;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What the runs of a list at the nodes of the common factor add up to, place by place. */
final class Tally {

    /** A distribution averaged over the nodes. */
    static final class Blend {
        private final List<Mass> masses = new ArrayList<>();
        private final List<Double> weights = new ArrayList<>();
        private @Nullable Mass blended;

        void add(double weight, Mass mass) {
            blended = null;
            masses.add(mass);
            weights.add(weight);
        }

        Mass mass() {
            if (blended == null) {
                blended = blend();
            }
            return blended;
        }

        private Mass blend() {
            Mass sum = masses.get(0);
            double total = weights.get(0);
            for (int i = 1; i < masses.size(); i++) {
                total += weights.get(i);
                sum = total == 0 ? sum : Mass.either(1 - weights.get(i) / total, sum, masses.get(i));
            }
            return sum;
        }

        boolean isEmpty() {
            return masses.isEmpty();
        }
    }

    /** One place: when the chair is free for it, when it ends, and what is not read from these. */
    static final class Row {
        final Blend chair = new Blend();
        final Blend finish = new Blend();
        final Blend ready = new Blend();
        /** For a second call-in, whose start depends on more than the chair; else empty. */
        final Blend start = new Blend();

        double practitionerFree;
        double weight;
        /** For a second call-in, whose due time depends on the chair; else NaN. */
        double meanWait = Double.NaN;

        double longWait = Double.NaN;

        void add(double w, double free, Mass chairFree, Mass finished, Mass roomReady) {
            practitionerFree += w * free;
            weight += w;
            chair.add(w, chairFree);
            finish.add(w, finished);
            ready.add(w, roomReady);
        }

        void addWait(double w, double mean, double chanceOfLong, Mass called) {
            start.add(w, called);
            meanWait = (Double.isNaN(meanWait) ? 0 : meanWait) + w * mean;
            longWait = (Double.isNaN(longWait) ? 0 : longWait) + w * chanceOfLong;
        }
    }

    final Row[] rows;
    final Blend end = new Blend();

    Tally(int places) {
        rows = new Row[places];
        for (int i = 0; i < places; i++) {
            rows[i] = new Row();
        }
    }
}
