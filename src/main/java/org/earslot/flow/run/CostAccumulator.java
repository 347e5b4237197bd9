package org.earslot.flow.run;

import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.chance.MixedDistribution;
import org.jspecify.annotations.Nullable;

/** What the runs of a list at the nodes of the common factor add up to, place by place. */
public final class CostAccumulator {

    /** A distribution averaged over the nodes. */
    public static final class Blend {
        private final List<MixedDistribution> laws = new ArrayList<>();
        private final List<Double> weights = new ArrayList<>();
        private @Nullable MixedDistribution blended;

        void add(double weight, MixedDistribution law) {
            blended = null;
            laws.add(law);
            weights.add(weight);
        }

        public MixedDistribution law() {
            MixedDistribution known = blended;
            if (known == null) {
                known = MixedDistribution.mixed(weights, laws);
                blended = known;
            }
            return known;
        }

        boolean isEmpty() {
            return laws.isEmpty();
        }
    }

    /** One place: when the chair is free for it, when it ends, and what is not read from these. */
    public static final class Row {
        public final Blend chair = new Blend();
        final Blend finish = new Blend();
        final Blend ready = new Blend();
        /** For a second call-in, whose start depends on more than the chair; else empty. */
        final Blend start = new Blend();

        double practitionerFree;
        double weight;
        /** For a second call-in, whose due time depends on the chair; else NaN. */
        double meanWait = Double.NaN;

        double longWait = Double.NaN;

        void add(double w, MixedDistribution finished) {
            weight += w;
            finish.add(w, finished);
        }

        public void add(
                double w,
                double free,
                MixedDistribution chairFree,
                MixedDistribution finished,
                MixedDistribution roomReady) {
            add(w, finished);
            practitionerFree += w * free;
            chair.add(w, chairFree);
            ready.add(w, roomReady);
        }

        void addWait(double w, double mean, double chanceOfLong, MixedDistribution called) {
            start.add(w, called);
            meanWait = (Double.isNaN(meanWait) ? 0 : meanWait) + w * mean;
            longWait = (Double.isNaN(longWait) ? 0 : longWait) + w * chanceOfLong;
        }
    }

    public final Row[] rows;
    public final Blend end = new Blend();

    public CostAccumulator(int places) {
        rows = new Row[places];
        for (int i = 0; i < places; i++) {
            rows[i] = new Row();
        }
    }
}
