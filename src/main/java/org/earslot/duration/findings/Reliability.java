package org.earslot.duration.findings;

import org.earslot.duration.table.Names;

/**
 * How a level that is there comes to be reported, by source: P(reported | found).
 *
 * <p>One table for all, shrunk to "right with the assumed probability, else any other level as often as it is found". One
 * number for each source, the odds of its being right against the common table's. Then a table for each source, shrunk to
 * the common one under those odds, by as much as makes the counts of all sources most likely.
 *
 * @param common by level found and level reported
 * @param bySource the same by source, the first being "not known"
 */
public record Reliability(double[][] common, double[][][] bySource) {

    private static final double[] WORTHS = {6, 12, 25, 50, 100, 200, 400, Dirichlet.ALL};

    /** How much the log odds of being right differ between sources, beforehand. */
    private static final double ODDS_SPREAD = 0.7;

    /**
     * What counts of reports say.
     *
     * @param counts by source (first those of no known source), found and reported level
     * @param shares of the levels found at all
     * @param right assumed probability that a report is right
     * @param worth of that assumption, in visits
     */
    static Reliability of(double[][][] counts, double[] shares, double[] right, double worth) {
        int levels = shares.length;
        double[][] common = new double[levels][];
        for (int found = 0; found < levels; found++) {
            double[] assumed = new double[levels];
            double others = 0;
            double[] seen = new double[levels];
            for (int reported = 0; reported < levels; reported++) {
                others += reported == found ? 0 : shares[reported];
                for (double[][] source : counts) {
                    seen[reported] += source[found][reported];
                }
            }
            for (int reported = 0; reported < levels; reported++) {
                assumed[reported] = reported == found
                        ? (levels == 1 ? 1 : right[found])
                        : (1 - right[found]) * shares[reported] / others;
            }
            common[found] = Dirichlet.shrunk(seen, assumed, worth);
        }
        Reliability reliability = new Reliability(common, new double[counts.length][][]);
        double[][] own = new double[counts.length * levels][];
        double[][] means = new double[own.length][];
        for (int source = 0; source < counts.length; source++) {
            double odds = reliability.odds(counts[source]);
            for (int found = 0; found < levels; found++) {
                own[source * levels + found] = counts[source][found];
                means[source * levels + found] = reliability.withOdds(found, odds);
            }
        }
        double chosen = Dirichlet.worth(own, means, WORTHS, expected());
        for (int source = 0; source < counts.length; source++) {
            reliability.bySource[source] = new double[levels][];
            for (int found = 0; found < levels; found++) {
                int row = source * levels + found;
                reliability.bySource[source][found] =
                        source == 0 ? common[found] : Dirichlet.shrunk(own[row], means[row], chosen);
            }
        }
        return reliability;
    }

    /** Around 50 visits, within a factor of about three. */
    private static double[] expected() {
        double[] expected = new double[WORTHS.length];
        for (int i = 0; i < expected.length; i++) {
            double steps = Math.log(Math.min(800, WORTHS[i]) / 50) / 1.2;
            expected[i] = -0.5 * steps * steps;
        }
        return expected;
    }

    /** The log odds of a source's being right, against the common table's: Newton's steps to the a posteriori mode. */
    private double odds(double[][] counts) {
        double odds = 0;
        for (int step = 0; step < 20; step++) {
            double slope = -odds / (ODDS_SPREAD * ODDS_SPREAD);
            double bend = 1 / (ODDS_SPREAD * ODDS_SPREAD);
            for (int found = 0; found < counts.length; found++) {
                double total = 0;
                for (double count : counts[found]) {
                    total += count;
                }
                double p = right(found, odds);
                slope += counts[found][found] - total * p;
                bend += total * p * (1 - p);
            }
            double change = Math.max(-1, Math.min(1, slope / bend));
            odds += change;
            if (Math.abs(change) < 1e-10) {
                break;
            }
        }
        return odds;
    }

    private double right(int found, double odds) {
        double p = common[found][found];
        double times = p * Math.exp(odds);
        return times / (1 - p + times);
    }

    private double[] withOdds(int found, double odds) {
        double[] row = common[found].clone();
        double before = row[found];
        if (before >= 1) {
            return row;
        }
        double after = right(found, odds);
        for (int reported = 0; reported < row.length; reported++) {
            row[reported] = reported == found ? after : row[reported] * (1 - after) / (1 - before);
        }
        return row;
    }

    /**
     * P(reported | found).
     *
     * @param source number of a source, {@link Names#NONE} for one not known
     */
    double of(int source, int found, int reported) {
        return (source + 1 < bySource.length ? bySource[source + 1] : common)[found][reported];
    }
}
