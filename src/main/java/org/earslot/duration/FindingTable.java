package org.earslot.duration;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.duration.Prior.Place;

/**
 * How often each level of one factor is found, given what was reported, by whom, and what was found in the same part of
 * the same person last time (or, failing that, in another part of that person).
 *
 * <p>All shares are Dirichlet means, each table shrunk to a more general one: levels found at all, to the assumed shares;
 * found given reported, to "the report is right with probability q, else any level as often as at all"; found given
 * reported by one source, to found given reported by anyone; found where nothing is reported, by kind of part, to the
 * same for all kinds. What was found last time enters as a factor P(found | last) / P(found), reports and memory being
 * taken as independent given what is found.
 */
final class FindingTable {

    /** Visits that the general table is worth beside one source's own, and beside one kind's own. */
    private static final double SOURCE_WORTH = 12;

    private static final double KIND_WORTH = 25;

    /** How much less is assumed of another part's last level than of the same part's. */
    private static final double ELSEWHERE = 0.6;

    /** No report, no source, no memory. */
    static final int NONE = -1;

    private final int levels;
    private final double[] assumed;
    private final double assumedWorth;
    private final double[] right;
    private final double rightWorth;
    private final double[] stays;
    private final double staysWorth;

    private final double[] found;
    private final double[][] foundGivenReport;
    private final double[][] foundGivenLast;
    private final Map<Integer, double[][]> bySource = new HashMap<>();
    private final Map<Integer, double[]> byKind = new HashMap<>();

    FindingTable(String factor, List<String> names, Priors priors) {
        levels = names.size();
        assumed = new double[levels];
        right = new double[levels];
        stays = new double[levels];
        double sum = 0;
        double worth = 0;
        for (int level = 0; level < levels; level++) {
            Prior share = priors.line(Place.SHARE, "*", factor, names.get(level));
            assumed[level] = share.value();
            sum += share.value();
            worth = Math.max(worth, share.spread());
            right[level] =
                    priors.line(Place.REPORT, "*", factor, names.get(level)).value();
            stays[level] =
                    priors.line(Place.MEMORY, "*", factor, names.get(level)).value();
        }
        for (int level = 0; level < levels; level++) {
            assumed[level] /= sum;
        }
        assumedWorth = worth;
        rightWorth = levels == 0
                ? 1
                : priors.line(Place.REPORT, "*", factor, names.get(0)).spread();
        staysWorth = levels == 0
                ? 1
                : priors.line(Place.MEMORY, "*", factor, names.get(0)).spread();
        found = new double[levels];
        foundGivenReport = new double[levels + 1][levels];
        // First the same part's last level, then another part's where the same part has none.
        foundGivenLast = new double[2 * levels][levels];
    }

    int levels() {
        return levels;
    }

    /** Counts one finding. Any of reported, source, kind and last may be {@link #NONE}. */
    void count(int level, int reported, int source, int kind, int last, double weight) {
        found[level] += weight;
        int row = reported == NONE ? levels : reported;
        foundGivenReport[row][level] += weight;
        if (reported == NONE && kind != NONE) {
            byKind.computeIfAbsent(kind, any -> new double[levels])[level] += weight;
        }
        if (source != NONE) {
            bySource.computeIfAbsent(source, any -> new double[levels + 1][levels])[row][level] += weight;
        }
        if (last != NONE) {
            foundGivenLast[last][level] += weight;
        }
    }

    /** Counts a level that was certain beforehand: it says how common the level is, and nothing on reports. */
    void countFound(int level, double weight) {
        found[level] += weight;
    }

    /** Shares of the levels, adding up to 1, into {@code into}. */
    void shares(int reported, int source, int kind, int last, double[] into) {
        double[] marginal = new double[levels];
        marginal(marginal);
        given(reported, source, kind, marginal, into);
        if (last != NONE) {
            double total = 0;
            double count = sum(foundGivenLast[last]);
            int level0 = last % levels;
            double stay = last < levels ? stays[level0] : stays[level0] * ELSEWHERE;
            for (int level = 0; level < levels; level++) {
                double base = (1 - stay) * marginal[level] + (level == level0 ? stay : 0);
                double share = (foundGivenLast[last][level] + staysWorth * base) / (count + staysWorth);
                into[level] *= share / marginal[level];
                total += into[level];
            }
            for (int level = 0; level < levels; level++) {
                into[level] /= total;
            }
        }
    }

    /** How often each level is reported, given that one is: for weighing the answers to a question. */
    double[] reportShares() {
        double[] shares = new double[levels];
        double[] marginal = new double[levels];
        marginal(marginal);
        double total = 0;
        for (int level = 0; level < levels; level++) {
            shares[level] = sum(foundGivenReport[level]) + rightWorth * marginal[level];
            total += shares[level];
        }
        for (int level = 0; level < levels; level++) {
            shares[level] /= total;
        }
        return shares;
    }

    /** Visits behind the row of {@code reported}, weighted. */
    double visits(int reported) {
        return sum(foundGivenReport[reported == NONE ? levels : reported]);
    }

    private void marginal(double[] into) {
        double count = sum(found);
        for (int level = 0; level < levels; level++) {
            into[level] = (found[level] + assumedWorth * assumed[level]) / (count + assumedWorth);
        }
    }

    private void given(int reported, int source, int kind, double[] marginal, double[] into) {
        int row = reported == NONE ? levels : reported;
        double worth = reported == NONE ? assumedWorth : rightWorth;
        double count = sum(foundGivenReport[row]);
        for (int level = 0; level < levels; level++) {
            double base = reported == NONE
                    ? marginal[level]
                    : (1 - right[reported]) * marginal[level] + (level == reported ? right[reported] : 0);
            into[level] = (foundGivenReport[row][level] + worth * base) / (count + worth);
        }
        double[] ofKind = reported == NONE && kind != NONE ? byKind.get(kind) : null;
        if (ofKind != null) {
            shrink(ofKind, KIND_WORTH, into);
        }
        double[][] ofSource = source == NONE ? null : bySource.get(source);
        if (ofSource != null) {
            shrink(ofSource[row], SOURCE_WORTH, into);
        }
    }

    private static void shrink(double[] own, double worth, double[] general) {
        double count = sum(own);
        for (int level = 0; level < own.length; level++) {
            general[level] = (own[level] + worth * general[level]) / (count + worth);
        }
    }

    private static double sum(double[] values) {
        return Arrays.stream(values).sum();
    }
}
