package org.earslot.duration.findings;

import java.util.Arrays;
import java.util.List;
import org.earslot.duration.past.LastFindings;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Priors;
import org.jspecify.annotations.Nullable;

/**
 * How often each level of one factor is found, given what was reported, by whom, under what circumstances, and what was
 * found in the same person before. Immutable.
 *
 * <p>By Bayes' rule, reports, circumstances and memory being taken as independent given what is found: shares of the levels
 * at all (a Dirichlet mean, shrunk to the assumed shares), times the probability of the report in hand under each level
 * ({@link Reliability}), times how much commoner each level is under each circumstance than the reports alone would have
 * it, times what is remembered ({@link CarryForward}). A circumstance enters only where the counts say that it matters, and
 * shrunk by as much as makes them most likely.
 */
public final class FindingTable {

    /** No report, no source. */
    public static final int NONE = -1;

    private static final double[] WORTHS = {20, 60, 200, 600, Dirichlet.ALL};

    /** A circumstance has to make the findings likelier by this much on the log scale. */
    private static final double[] EXPECTED = {-2, -2, -2, -2, 0};

    /** Shares of the levels found at all. */
    public final double[] general;

    public final Reliability reliability;

    /** By circumstance: by how much commoner each level is; null where it does not matter. */
    public final double[] @Nullable [] times;

    public final CarryForward carryForward;

    /** Of the same factor in other parts of the visit. */
    public final Resemblance resemblance;

    public FindingTable(
            double[] general,
            Reliability reliability,
            double[] @Nullable [] times,
            CarryForward carryForward,
            Resemblance resemblance) {
        this.general = general;
        this.reliability = reliability;
        this.times = times;
        this.carryForward = carryForward;
        this.resemblance = resemblance;
    }

    /** Shares of the levels, adding up to 1, into {@code into}. */
    public void shares(int reported, int source, Circumstances.Buffer given, long memory, double[] into) {
        reported(reported, source, true, into);
        for (int i = 0; i < given.count && times.length > 0; i++) {
            double[] ratio = times[given.of[i]];
            if (ratio != null) {
                for (int level = 0; level < general.length; level++) {
                    into[level] *= ratio[level];
                }
            }
        }
        carryForward.apply(memory, general, into);
        toSumOne(into);
    }

    private void reported(int report, int source, boolean silence, double[] into) {
        double[] quiet = report == NONE && silence && times.length > 0 ? times[Circumstances.SILENCE] : null;
        for (int level = 0; level < general.length; level++) {
            into[level] = general[level]
                    * (report == NONE ? (quiet == null ? 1 : quiet[level]) : reliability.of(source, level, report));
        }
        toSumOne(into);
    }

    private void toSumOne(double[] shares) {
        double total = 0;
        for (int level = 0; level < general.length; level++) {
            total += shares[level];
        }
        for (int level = 0; level < general.length; level++) {
            shares[level] /= total;
        }
    }

    /** How often each level is reported, given that one is: for weighing the answers to a question. */
    public double[] reportShares() {
        double[] shares = new double[general.length];
        for (int report = 0; report < shares.length; report++) {
            for (int level = 0; level < shares.length; level++) {
                shares[report] += general[level] * reliability.of(NONE, level, report);
            }
        }
        return shares;
    }

    /** Findings of one factor, counted: what a table is made of. */
    public static final class Tally {

        private final int levels;
        private final int circumstances;
        private final double[] assumed;
        private final double assumedWorth;
        private final double[] right;
        private final double rightWorth;
        private final CarryForward.Tally carryForward;
        final Resemblance.Tally resemblance;

        private final double[] found;
        /** By source, found and reported; the first source is "not known". */
        private double[][][] reports;
        /** By circumstance and level. */
        private final double[][] under;
        /** By circumstance, source and report, the first report being none. */
        private final double[][][] asked;

        /**
         * Nothing counted yet.
         *
         * @param circumstances how many there are, 0 to leave them out
         */
        public Tally(String factor, List<String> names, Priors priors, int circumstances) {
            levels = names.size();
            this.circumstances = circumstances;
            assumed = new double[levels];
            right = new double[levels];
            double stays = 0;
            double sum = 0;
            double worth = 1;
            double rights = 1;
            for (int level = 0; level < levels; level++) {
                Prior share = priors.line(Prior.Place.SHARE, "*", factor, names.get(level));
                assumed[level] = share.value();
                sum += share.value();
                worth = Math.max(worth, share.spread());
                Prior report = priors.line(Prior.Place.REPORT, "*", factor, names.get(level));
                right[level] = report.value();
                rights = report.spread();
                stays += priors.line(Prior.Place.MEMORY, "*", factor, names.get(level))
                                .value()
                        / levels;
            }
            for (int level = 0; level < levels; level++) {
                assumed[level] /= sum;
            }
            assumedWorth = worth;
            rightWorth = rights;
            carryForward = new CarryForward.Tally(stays);
            resemblance = new Resemblance.Tally(levels, CarryForward.ofOneOther(stays));
            found = new double[levels];
            reports = new double[1][levels][levels];
            under = new double[circumstances][];
            asked = new double[circumstances][][];
        }

        /**
         * Counts one finding.
         *
         * @param reported {@link #NONE} where nothing was
         * @param source {@link #NONE} where not known
         * @param given under what circumstances; null to leave them out
         */
        public void count(
                int level, int reported, int source, Circumstances.@Nullable Buffer given, long memory, double weight) {
            found[level] += weight;
            int sources = reports.length;
            if (source + 1 >= sources) {
                reports = Arrays.copyOf(reports, source + 2);
                for (int s = sources; s < reports.length; s++) {
                    reports[s] = new double[levels][levels];
                }
            }
            if (reported != NONE) {
                reports[source + 1][level][reported] += weight;
            }
            if (memory != LastFindings.NONE) {
                carryForward.add(memory, level);
            }
            if (circumstances > 0 && given != null) {
                if (reported == NONE) {
                    circumstance(Circumstances.SILENCE, level, reported, source, weight);
                }
                for (int i = 0; i < given.count; i++) {
                    circumstance(given.of[i], level, reported, source, weight);
                }
            }
        }

        private void circumstance(int c, int level, int reported, int source, double weight) {
            double[] own = under[c];
            double[][] questions = asked[c];
            if (own == null) {
                own = new double[levels];
                under[c] = own;
                questions = new double[0][];
            }
            own[level] += weight;
            if (source + 1 >= questions.length) {
                int before = questions.length;
                questions = Arrays.copyOf(questions, source + 2);
                for (int s = before; s < questions.length; s++) {
                    questions[s] = new double[levels + 1];
                }
                asked[c] = questions;
            }
            questions[source + 1][reported + 1] += weight;
        }

        /** Counts a level that was certain beforehand: it says how common the level is, and nothing on reports. */
        void countFound(int level, double weight) {
            found[level] += weight;
        }

        /**
         * What the counts say.
         *
         * @param groups the first circumstance of each group of those that exclude each other, and the end
         */
        public FindingTable table(int[] groups) {
            double[] general = Dirichlet.shrunk(found, assumed, assumedWorth);
            FindingTable table = new FindingTable(
                    general,
                    Reliability.of(reports, general, right, rightWorth),
                    new double[circumstances][],
                    carryForward.likeliest(general),
                    resemblance.resemblance(general));
            if (circumstances > 0) {
                // What is silence worth, first; then the rest beside it.
                matters(table, Circumstances.SILENCE, Circumstances.SILENCE + 1);
                for (int group = 1; group + 1 < groups.length; group++) {
                    matters(table, groups[group], groups[group + 1]);
                }
            }
            return table;
        }

        private void matters(FindingTable table, int from, int to) {
            int count = 0;
            double[][] own = new double[to - from][];
            double[][] means = new double[to - from][];
            for (int c = from; c < to; c++) {
                double[] seen = under[c];
                if (seen != null) {
                    own[count] = seen;
                    means[count++] = expected(table, c);
                }
            }
            if (count == 0) {
                return;
            }
            double worth = Dirichlet.worth(Arrays.copyOf(own, count), Arrays.copyOf(means, count), WORTHS, EXPECTED);
            if (worth == Dirichlet.ALL) {
                return;
            }
            int at = 0;
            for (int c = from; c < to; c++) {
                double[] seen = under[c];
                if (seen != null) {
                    double[] mean = means[at++];
                    double[] ratio = Dirichlet.shrunk(seen, mean, worth);
                    for (int level = 0; level < levels; level++) {
                        ratio[level] /= mean[level];
                    }
                    table.times[c] = ratio;
                }
            }
        }

        /** Shares expected under a circumstance from the reports made under it alone. */
        private double[] expected(FindingTable table, int c) {
            double[] expected = new double[levels];
            double[] shares = new double[levels];
            double[][] questions = asked[c];
            double total = 0;
            for (int source = 0; source < questions.length; source++) {
                for (int report = 0; report <= levels; report++) {
                    double count = questions[source][report];
                    if (count > 0) {
                        table.reported(report - 1, source - 1, c != Circumstances.SILENCE, shares);
                        for (int level = 0; level < levels; level++) {
                            expected[level] += count * shares[level];
                        }
                        total += count;
                    }
                }
            }
            for (int level = 0; level < levels; level++) {
                expected[level] = Math.max(1e-6, expected[level] / total);
            }
            return expected;
        }
    }
}
