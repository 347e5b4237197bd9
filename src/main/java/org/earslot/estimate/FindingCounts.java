package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.duration.table.Term;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;

/** Counts what was found after each report, factor by factor. */
final class FindingCounts {

    private static final Map<String, List<String>> LEVELS = Map.of(
            Factors.WAX, Word.codes(Wax.values()),
            Factors.CANAL, Word.codes(Canal.values()),
            Factors.DEPTH, Word.codes(Depth.values()),
            Factors.OCCLUSION, Word.codes(Occlusion.values()));

    private final Map<String, Map<String, long[]>> found = new TreeMap<>();

    /** Counts a finding that was written down; a factor that is no finding of an ear is passed over. */
    void add(Term.Finding finding) {
        List<String> levels = LEVELS.get(finding.factor());
        int level = levels == null || finding.found() == null ? -1 : levels.indexOf(finding.found());
        if (level >= 0) {
            String reported = finding.reported() == null ? "" : finding.reported();
            found.computeIfAbsent(finding.factor(), any -> new TreeMap<>())
                    .computeIfAbsent(reported, any -> new long[levels.size()])[level]++;
        }
    }

    List<ModelReport.Table> tables() {
        List<ModelReport.Table> tables = new ArrayList<>();
        found.forEach((factor, byReport) -> {
            List<String> levels = LEVELS.get(factor);
            List<String> reports = new ArrayList<>(levels);
            reports.add("");
            List<ModelReport.Row> rows = reports.stream()
                    .filter(byReport::containsKey)
                    .map(report -> row(report, byReport.get(report)))
                    .toList();
            tables.add(new ModelReport.Table(factor, levels, rows));
        });
        return tables;
    }

    private static ModelReport.Row row(String reported, long[] counts) {
        long all = 0;
        for (long count : counts) {
            all += count;
        }
        List<Double> shares = new ArrayList<>();
        for (long count : counts) {
            shares.add(ModelReport.rounded((double) count / all));
        }
        return new ModelReport.Row(reported, all, shares);
    }
}
