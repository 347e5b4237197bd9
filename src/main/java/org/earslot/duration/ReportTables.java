package org.earslot.duration;

/** The tables of all factors: how often each level is found, given report, source, kind and memory. */
final class ReportTables {

    private final FindingTable[] tables;

    /** Nothing counted yet. */
    ReportTables(Vocabulary vocabulary, Priors priors) {
        tables = new FindingTable[vocabulary.factors.size()];
        for (int factor = 0; factor < tables.length; factor++) {
            tables[factor] = new FindingTable(
                    vocabulary.factors.name(factor),
                    vocabulary.levels.get(factor).all(),
                    priors);
        }
    }

    FindingTable of(int factor) {
        return tables[factor];
    }

    int size() {
        return tables.length;
    }

    /** Counts the findings of the rows from one place in their order of time to another. */
    void count(PastVisits visits, int from, int to, double[] weights) {
        for (int i = from; i < to; i++) {
            int row = visits.order[i];
            for (int s = visits.firstSegment[row]; s < visits.firstSegment[row + 1]; s++) {
                for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                    count(visits, row, s, visits.term[t], weights[row]);
                }
            }
        }
    }

    private void count(PastVisits visits, int row, int segment, long term, double weight) {
        if (PastVisits.isNumber(term)) {
            return;
        }
        int found = PastVisits.foundOf(term);
        if (found == Names.NONE) {
            return;
        }
        FindingTable table = tables[PastVisits.factorOf(term)];
        if (PastVisits.isCertain(term)) {
            table.countFound(found, weight);
        } else {
            table.count(
                    found,
                    PastVisits.reportedOf(term),
                    visits.source[row],
                    visits.kind[segment],
                    PastVisits.lastOf(term),
                    weight);
        }
    }
}
