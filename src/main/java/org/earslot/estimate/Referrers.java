package org.earslot.estimate;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;

/** How what each referrer reported turned out, the one who reported most first. */
final class Referrers {

    /** Referrers shown; the reports of the others are in the tables of all. */
    static final int MOST = 20;

    private final Map<String, FindingCounts> counts = new TreeMap<>();

    private Referrers() {}

    static List<ModelReport.Referrer> of(List<VisitRow> rows) {
        Referrers referrers = new Referrers();
        rows.forEach(referrers::count);
        List<ModelReport.Referrer> told = new ArrayList<>();
        referrers.counts.forEach((name, found) -> {
            List<ModelReport.Table> tables = found.tables();
            if (!tables.isEmpty()) {
                told.add(new ModelReport.Referrer(name, tables));
            }
        });
        told.sort(Comparator.comparingLong(ModelReport.Referrer::reports).reversed());
        return told.subList(0, Math.min(MOST, told.size()));
    }

    private void count(VisitRow row) {
        String source = row.terms().source();
        if (source == null) {
            return;
        }
        for (Part part : row.terms().parts()) {
            for (Term term : part.terms()) {
                if (term instanceof Term.Finding finding && finding.reported() != null && finding.found() != null) {
                    counts.computeIfAbsent(source, any -> new FindingCounts()).add(finding);
                }
            }
        }
    }
}
