package org.earslot.review.advice;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.estimate.ModelReport;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.GroupTable;
import org.earslot.review.figures.Share;
import org.hipparchus.special.Erf;

/** Tells from what the estimator has counted, reported against found, which referrers' words can be relied on. */
final class ReferrersWords {

    /** With fewer reports nothing is said; as for small groups. */
    private static final int FEWEST = GroupTable.SMALL;

    /** The usual share counts as so many reports beside a referrer's own; the project's own assumption. */
    private static final double WORTH = 20;

    private ReferrersWords() {}

    /**
     * In the order of the counts, the most first, never by the share. A referrer stands out only where the score interval
     * of the own share leaves out the usual one at a level that all of them together keep in 19 of 20 tables.
     */
    static List<ReferrerLine> of(ModelReport learnt) {
        Map<String, Double> usual = new HashMap<>();
        learnt.tables().forEach(table -> usual.put(table.factor(), table.foundAsReported()));
        int judged = (int) learnt.referrers().stream()
                .filter(referrer -> referrer.reports() >= FEWEST)
                .count();
        double z = Math.sqrt(2) * Erf.erfInv(1 - 0.05 / Math.max(1, judged));
        return learnt.referrers().stream()
                .map(referrer -> line(referrer, usual, z))
                .toList();
    }

    private static ReferrerLine line(ModelReport.Referrer referrer, Map<String, Double> usual, double z) {
        long reports = referrer.reports();
        double right = 0;
        double expected = 0;
        for (ModelReport.Table table : referrer.tables()) {
            right += table.foundAsReported() * table.reports();
            expected += usual.getOrDefault(table.factor(), 0.0) * table.reports();
        }
        double share = reports == 0 ? 0 : expected / reports;
        Share own = new Share((int) Math.min(reports, Math.round(right)), (int) reports);
        Change.Verdict word = reports < FEWEST
                ? Change.Verdict.NOT_KNOWN
                : own.low(z) > share
                        ? Change.Verdict.MORE
                        : own.high(z) < share ? Change.Verdict.LESS : Change.Verdict.NOT_CLEAR;
        return new ReferrerLine(referrer.name(), own, share, (own.count() + WORTH * share) / (own.of() + WORTH), word);
    }
}
