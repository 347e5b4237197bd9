package org.earslot.duration.predict;

import java.util.Arrays;
import org.earslot.duration.table.Names;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.ProbabilityMap;
import org.jspecify.annotations.Nullable;

/**
 * From a question to a distribution: the mixture over what may be found of log-normals around each location, with the
 * doubt about coefficients, practitioner, person and noise in their widths. Reusable, for one thread.
 */
public final class Forecast {

    private static final int ONCE_POINTS = 4;
    private static final int PART_POINTS = 10;
    private static final int LOCATIONS = 32;

    /** Locations are kept this far apart at the least, in standard deviations of the noise: closer ones cannot be told. */
    private static final double APART = 0.3;

    /** Three-point Gauss-Hermite rule: nodes in standard deviations, and weights. */
    private static final double[] NODE = {-Math.sqrt(3), 0, Math.sqrt(3)};

    private static final double[] NODE_WEIGHT = {1.0 / 6, 2.0 / 3, 1.0 / 6};

    /** Doubt about the logarithm of the variance below this changes nothing that shows. */
    private static final double CLEAR = 0.16;

    private static final double MOST_WIDER = 0.7;

    private final Layout layout;
    private final Posterior posterior;

    private LocationGrid[] bins = new LocationGrid[0];
    private double[][] shareOf = new double[0][];
    private final Combination combination = new Combination();
    private final Location mean;
    private final Gradient gradient;

    // The locations left after merging.
    int locations;
    final double[] locationShare = new double[LOCATIONS];
    final double[] location = new double[LOCATIONS];
    final double[] locationVariance = new double[LOCATIONS];

    /** Variance of the location by what is not known of coefficients, group and person, a group never seen apart. */
    double doubt;

    /**
     * Of that, what the visits of the group share: the group's own, but never more than all of it, since a group's level and
     * the level of all are doubtful one against the other where few groups tell them apart.
     */
    double groupDoubt;

    /** By how much the noise is wider than its class's, by what is known and expected of the findings. */
    private double wider;

    private double unseenGroupVariance;
    private double unseenGroupSquare;

    public Forecast(Layout layout, Posterior posterior) {
        this.layout = layout;
        this.posterior = posterior;
        mean = new Location(layout, posterior.beta());
        gradient = new Gradient(layout);
    }

    /**
     * The time to completion.
     *
     * @param shift what the recent level adds to every location
     */
    public MixtureMinutes of(Query asked, double shift, ProbabilityMap map) {
        locate(asked, shift);
        return mixture(asked, map);
    }

    // ---- where the time lies -------------------------------------------------------------------------------------

    private void locate(Query asked, double shift) {
        int count = asked.segments.size();
        ensure(count);
        double[] block = asked.group == Names.NONE ? null : posterior.block()[asked.group];
        double unseen = 0;
        int combinations = 1;
        for (int s = 0; s < count; s++) {
            Query.Segment segment = asked.segments.get(s);
            bins[s].start(known(asked, segment, block));
            for (Query.Entry entry : segment.entries) {
                if (!entry.certain()) {
                    bins[s].spread(entry.columns(), entry.shares(), posterior.beta());
                }
            }
            if ((long) combinations * bins[s].count > 20_000) {
                bins[s].collapse();
            }
            combinations *= bins[s].count;
            Arrays.fill(shareOf[s], 0, bins[s].count, 0);
            unseen = Math.max(unseen, segment.unseenVariance);
        }
        double beyond = shift + mean.beyond(asked.late, asked.personMean, block);
        combine(count, combinations, beyond, APART * posterior.sizes().noise[noiseClass(asked)]);
        differentiate(asked, count);
        groupDoubt = 0;
        unseenGroupVariance = 0;
        double variance = posterior.variance(gradient, asked.group);
        if (asked.group == Names.NONE) {
            unseenGroup();
        } else {
            groupDoubt = Math.min(variance, posterior.own()[asked.group][0]);
        }
        doubt = variance + asked.personVariance + unseen;
        together(asked);
        double widen = 0;
        for (int i = 0; i < gradient.count; i++) {
            widen += posterior.widths()[gradient.column[i]] * gradient.value[gradient.column[i]];
        }
        wider = Math.exp(Math.max(-MOST_WIDER, Math.min(MOST_WIDER, widen)));
    }

    /** Parts that are alike are long together: the covariance of their logarithms, each by its share of the time. */
    private void together(Query asked) {
        double variance = 0;
        for (Query.Pair pair : asked.pairs) {
            variance += 2 * share(pair.one()) * share(pair.other()) * pair.covariance(posterior.beta());
        }
        for (int l = 0; l < locations; l++) {
            locationVariance[l] = Math.max(0, locationVariance[l] + variance);
        }
    }

    /** A segment's share of the time. */
    private double share(int segment) {
        double share = 0;
        for (int point = 0; point < bins[segment].count; point++) {
            share += shareOf[segment][point];
        }
        return share;
    }

    /** A group never seen may be anywhere that groups are. */
    private void unseenGroup() {
        VarianceComponents sizes = posterior.sizes();
        double rest = 0;
        for (int k = 1; k < gradient.local.length; k++) {
            double size = k <= layout.kinds ? sizes.groupKind : sizes.groupSide;
            rest += gradient.local[k] * gradient.local[k] * size * size;
        }
        unseenGroupVariance = rest;
        unseenGroupSquare = sizes.group * sizes.group;
        groupDoubt = unseenGroupSquare;
    }

    /** The log minutes of all that is known of a segment. */
    private double known(Query asked, Query.Segment segment, double @Nullable [] block) {
        double sum = segment.unseenMean + (segment.unseen() ? 0 : mean.base(segment.kind + 1));
        for (Query.Entry entry : segment.entries) {
            if (entry.certain()) {
                sum += mean.term(entry);
            }
        }
        return segment.unseen() ? sum : sum + mean.inside(segment.kind, segment.side, asked.late, block);
    }

    private void ensure(int count) {
        if (bins.length < count) {
            int had = bins.length;
            bins = Arrays.copyOf(bins, count);
            shareOf = Arrays.copyOf(shareOf, count);
            for (int s = had; s < count; s++) {
                bins[s] = new LocationGrid(s == 0 ? ONCE_POINTS : PART_POINTS);
                shareOf[s] = new double[Math.max(ONCE_POINTS, 64)];
            }
        }
        for (int s = 0; s < count; s++) {
            // Few levels need no merging, so there may be more points than are kept.
            if (shareOf[s].length < 64) {
                shareOf[s] = new double[64];
            }
        }
    }

    private double[] sums = new double[256];
    private double[] chances = new double[256];

    /** Every combination of the segments' points, merged into a few locations; keeps each segment's share of time. */
    private void combine(int count, int combinations, double beyond, double apart) {
        if (sums.length < combinations) {
            sums = new double[combinations];
            chances = new double[combinations];
        }
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        combination.first(bins, count);
        for (int c = 0; c < combinations; c++, combination.next(bins, count)) {
            for (int s = 0; s < count; s++) {
                int point = combination.point[s];
                shareOf[s][point] += combination.share * bins[s].minutes[point] / combination.minutes;
            }
            double log = Math.log(combination.minutes) + beyond;
            sums[c] = log;
            chances[c] = combination.share;
            low = Math.min(low, log);
            high = Math.max(high, log);
        }
        int kept = Math.min(Math.min(LOCATIONS, combinations), 1 + (int) ((high - low) / apart));
        double perLog = high > low ? kept / (high - low) : 0;
        Arrays.fill(locationShare, 0);
        Arrays.fill(location, 0);
        Arrays.fill(locationVariance, 0);
        for (int c = 0; c < combinations; c++) {
            int bin = Math.min(kept - 1, (int) ((sums[c] - low) * perLog));
            locationShare[bin] += chances[c];
            location[bin] += chances[c] * sums[c];
            locationVariance[bin] += chances[c] * sums[c] * sums[c];
        }
        locations = 0;
        for (int bin = 0; bin < kept; bin++) {
            double p = locationShare[bin];
            if (p > 1e-12) {
                double mean = location[bin] / p;
                double variance = Math.max(0, locationVariance[bin] / p - mean * mean);
                locationShare[locations] = p;
                location[locations] = mean;
                locationVariance[locations] = variance;
                locations++;
            }
        }
    }

    /** The expected gradient of the location, each segment by its share of the time. */
    private void differentiate(Query asked, int count) {
        gradient.clear();
        for (int s = 0; s < count; s++) {
            Query.Segment segment = asked.segments.get(s);
            LocationGrid of = bins[s];
            double share = share(s);
            if (!segment.unseen()) {
                gradient.add(layout.base[segment.kind + 1], share);
                gradient.add(layout.since[segment.kind + 1], share);
                gradient.inside(segment.kind, segment.side, asked.late, share);
            }
            for (Query.Entry entry : segment.entries) {
                if (entry.number()) {
                    gradient.add(entry.columns()[0], share * entry.shares()[0]);
                } else if (entry.certain()) {
                    for (int level = 0; level < entry.shares().length; level++) {
                        if (entry.shares()[level] == 1) {
                            gradient.add(entry.columns()[level], share);
                        }
                    }
                }
            }
            for (int slot = 0; slot < of.slots; slot++) {
                double expected = 0;
                for (int point = 0; point < of.count; point++) {
                    expected += shareOf[s][point] * of.design[point][slot];
                }
                gradient.add(of.slotColumn[slot], expected);
            }
        }
        gradient.beyond(asked.late, 1);
    }

    // ---- how wide it is ------------------------------------------------------------------------------------------

    private MixtureMinutes mixture(Query asked, ProbabilityMap map) {
        VarianceComponents sizes = posterior.sizes();
        int in = noiseClass(asked);
        double sigma = wider * sizes.noise[in];
        boolean unseen = asked.group == Names.NONE;
        double wide = doubt + (unseen ? unseenGroupVariance + unseenGroupSquare : 0);
        // Doubt about the sizes: that of each one's square, in its own part of the variance.
        double ofNoise = 2 * sizes.noiseDoubt[in];
        double ofGroup = unseen ? 2 * sizes.groupDoubt * unseenGroupSquare : 0;
        double most = Math.hypot(ofNoise * sigma * sigma, ofGroup) / (sigma * sigma + wide);
        int nodes = most > CLEAR ? NODE.length : 1;
        int kinds = sizes.outlierShare > 0 ? 2 : 1;
        double[] weights = new double[locations * nodes * kinds];
        double[] means = new double[weights.length];
        double[] sds = new double[weights.length];
        int at = 0;
        double total = 0;
        for (int l = 0; l < locations; l++) {
            for (int kind = 0; kind < kinds; kind++) {
                double noise = kind == 0 ? sigma : sizes.outlierSpread * sigma;
                double share = kinds == 1 ? 1 : kind == 0 ? 1 - sizes.outlierShare : sizes.outlierShare;
                double variance = noise * noise + wide + locationVariance[l];
                double spread = Math.hypot(ofNoise * noise * noise, ofGroup) / variance;
                for (int n = 0; n < nodes; n++) {
                    weights[at] = locationShare[l] * share * (nodes == 1 ? 1 : NODE_WEIGHT[n]);
                    means[at] = location[l] + (kind == 0 ? 0 : sizes.outlierShift);
                    sds[at] = Math.sqrt(nodes == 1 ? variance : variance * Math.exp(NODE[n] * spread));
                    total += weights[at++];
                }
            }
        }
        for (int i = 0; i < weights.length; i++) {
            weights[i] /= total;
        }
        return new MixtureMinutes(weights, means, sds, map);
    }

    /** The class of noise of a question. */
    static int noiseClass(Query asked) {
        int parts = asked.segments.size() - 1;
        return VarianceComponents.noiseClass(parts == 0 ? Names.NONE : asked.segments.get(1).kind, parts);
    }
}
