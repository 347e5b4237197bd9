package org.earslot.duration.findings;

import java.util.Arrays;
import org.earslot.duration.past.LastFindings;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Vocabulary;
import org.jspecify.annotations.Nullable;

/** The tables of all factors: how often each level is found, given report, source, circumstances and memory. Immutable. */
public final class ReportTables {

    private final FindingTable[] tables;
    public final Circumstances circumstances;

    /** @param tables by factor */
    public ReportTables(Circumstances circumstances, FindingTable[] tables) {
        this.circumstances = circumstances;
        this.tables = tables;
    }

    /** As assumed before any visit. */
    public static ReportTables assumed(Vocabulary vocabulary, Priors priors) {
        return new Tally(vocabulary, priors).tables();
    }

    public FindingTable of(int factor) {
        return tables[factor];
    }

    public int size() {
        return tables.length;
    }

    /** Findings of past visits, counted by factor. */
    public static final class Tally {

        /** Visits counted at once that are enough to see which circumstances matter. */
        private static final int ENOUGH = 20_000;

        private final FindingTable.Tally[] tallies;
        private final Circumstances circumstances;

        /** Nothing counted yet. */
        public Tally(Vocabulary vocabulary, Priors priors) {
            circumstances = new Circumstances(vocabulary);
            tallies = new FindingTable.Tally[vocabulary.factors.size()];
            for (int factor = 0; factor < tallies.length; factor++) {
                tallies[factor] = new FindingTable.Tally(
                        vocabulary.factors.name(factor),
                        vocabulary.levels.get(factor).all(),
                        priors,
                        circumstances.count());
            }
        }

        /** What the counts say. */
        public ReportTables tables() {
            return new ReportTables(
                    circumstances,
                    Arrays.stream(tallies)
                            .map(tally -> tally.table(circumstances.groups))
                            .toArray(FindingTable[]::new));
        }

        /** Counts the findings of the rows from one place in their order of time to another. */
        public void count(PastVisits visits, int from, int to, double[] weights) {
            Circumstances.Buffer given = new Circumstances.Buffer();
            int every = 1 + (to - from) / ENOUGH;
            for (int i = from; i < to; i++) {
                int row = visits.order[i];
                boolean look = i % every == 0;
                for (int s = visits.firstSegment[row]; s < visits.firstSegment[row + 1]; s++) {
                    if (look) {
                        circumstances.gather(visits, row, s, given);
                    }
                    for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                        count(visits, row, t, look ? given : null, weights[row]);
                    }
                }
                if (look) {
                    pairs(visits, row, weights[row]);
                }
            }
        }

        /** What was found in each two parts of a visit, of a person of whom nothing is remembered. */
        private void pairs(PastVisits visits, int row, double weight) {
            int last = visits.firstSegment[row + 1];
            for (int one = visits.firstSegment[row] + 1; one < last - 1; one++) {
                for (int t = visits.firstTerm[one]; t < visits.firstTerm[one + 1]; t++) {
                    long term = visits.term[t];
                    if (PastVisits.isNumber(term)
                            || PastVisits.isCertain(term)
                            || PastVisits.foundOf(term) == Names.NONE
                            || visits.recollection(t) != LastFindings.NONE) {
                        continue;
                    }
                    for (int other = visits.firstTerm[one + 1]; other < visits.firstTerm[last]; other++) {
                        long second = visits.term[other];
                        if (!PastVisits.isNumber(second)
                                && PastVisits.factorOf(second) == PastVisits.factorOf(term)
                                && !PastVisits.isCertain(second)
                                && PastVisits.foundOf(second) != Names.NONE) {
                            tallies[PastVisits.factorOf(term)].resemblance.count(
                                    PastVisits.foundOf(term), PastVisits.foundOf(second), weight);
                        }
                    }
                }
            }
        }

        private void count(PastVisits visits, int row, int t, Circumstances.@Nullable Buffer given, double weight) {
            long term = visits.term[t];
            if (PastVisits.isNumber(term)) {
                return;
            }
            int found = PastVisits.foundOf(term);
            if (found == Names.NONE) {
                return;
            }
            FindingTable.Tally tally = tallies[PastVisits.factorOf(term)];
            if (PastVisits.isCertain(term)) {
                tally.countFound(found, weight);
            } else {
                tally.count(
                        found, PastVisits.reportedOf(term), visits.source[row], given, visits.recollection(t), weight);
            }
        }
    }
}
