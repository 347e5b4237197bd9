package org.earslot.flow;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What the runs of a list at the nodes of the common factor add up to, place by place. */
final class Tally {

    /** A distribution averaged over the nodes. */
    static final class Blend {
        private final List<Law> laws = new ArrayList<>();
        private final List<Double> weights = new ArrayList<>();
        private @Nullable Law blended;

        void add(double weight, Law law) {
            blended = null;
            laws.add(law);
            weights.add(weight);
        }

        Law law() {
            Law known = blended;
            if (known == null) {
                known = Law.mixed(weights, laws);
                blended = known;
            }
            return known;
        }

        boolean isEmpty() {
            return laws.isEmpty();
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

        void add(double w, Law finished) {
            weight += w;
            finish.add(w, finished);
        }

        void add(double w, double free, Law chairFree, Law finished, Law roomReady) {
            add(w, finished);
            practitionerFree += w * free;
            chair.add(w, chairFree);
            ready.add(w, roomReady);
        }

        void addWait(double w, double mean, double chanceOfLong, Law called) {
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
