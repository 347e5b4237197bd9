package org.earslot.estimate;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.earslot.duration.Part;
import org.earslot.duration.Term;
import org.earslot.duration.VisitRow;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;

/**
 * How many visits stand behind each thing learnt.
 *
 * @param kinds by method and number of ears
 * @param levels by method (empty: paid once), factor and level; found ones, and certain ones
 * @param practitioners by practitioner and method
 * @param tables what was found after each report
 */
record LearntCounts(
        Map<KindKey, Long> kinds,
        Map<LevelKey, Long> levels,
        Map<String, Map<String, Long>> practitioners,
        List<WhatWasLearnt.Table> tables) {

    private static final Map<String, List<String>> FOUND = Map.of(
            Factors.WAX, Word.codes(Wax.values()),
            Factors.CANAL, Word.codes(Canal.values()),
            Factors.DEPTH, Word.codes(Depth.values()),
            Factors.OCCLUSION, Word.codes(Occlusion.values()));

    record KindKey(String method, int ears) implements Comparable<KindKey> {
        @Override
        public int compareTo(KindKey other) {
            return Comparator.comparing(KindKey::method)
                    .thenComparing(KindKey::ears)
                    .compare(this, other);
        }
    }

    record LevelKey(String method, String factor, String level) implements Comparable<LevelKey> {
        @Override
        public int compareTo(LevelKey other) {
            return Comparator.comparing(LevelKey::method)
                    .thenComparing(LevelKey::factor)
                    .thenComparing(LevelKey::level)
                    .compare(this, other);
        }
    }

    static LearntCounts of(List<VisitRow> rows) {
        Map<KindKey, Long> kinds = new TreeMap<>();
        Map<LevelKey, Long> levels = new TreeMap<>();
        Map<String, Map<String, Long>> practitioners = new TreeMap<>();
        Map<String, Map<String, long[]>> found = new TreeMap<>();
        for (VisitRow row : rows) {
            List<Part> parts = row.terms().parts();
            Set<LevelKey> seen = new HashSet<>();
            row.terms().once().forEach(term -> level("", term, seen));
            for (Part part : parts) {
                part.terms().forEach(term -> level(part.kind(), term, seen));
                part.terms().forEach(term -> found(term, found));
            }
            seen.forEach(key -> levels.merge(key, 1L, Long::sum));
            if (!parts.isEmpty()) {
                kinds.merge(new KindKey(parts.get(0).kind(), parts.size()), 1L, Long::sum);
                String who = row.terms().group();
                if (who != null) {
                    practitioners
                            .computeIfAbsent(who, any -> new TreeMap<>())
                            .merge(parts.get(0).kind(), 1L, Long::sum);
                }
            }
        }
        return new LearntCounts(kinds, levels, practitioners, tables(found));
    }

    private static void level(String method, Term term, Set<LevelKey> seen) {
        if (term instanceof Term.Level level) {
            seen.add(new LevelKey(method, level.factor(), level.level()));
        } else if (term instanceof Term.Finding finding && finding.found() != null) {
            seen.add(new LevelKey(method, finding.factor(), finding.found()));
        }
    }

    private static void found(Term term, Map<String, Map<String, long[]>> found) {
        if (term instanceof Term.Finding finding && finding.found() != null && FOUND.containsKey(finding.factor())) {
            List<String> levels = FOUND.get(finding.factor());
            String reported = finding.reported() == null ? "" : finding.reported();
            found.computeIfAbsent(finding.factor(), any -> new TreeMap<>())
                    .computeIfAbsent(reported, any -> new long[levels.size()])[levels.indexOf(finding.found())]++;
        }
    }

    private static List<WhatWasLearnt.Table> tables(Map<String, Map<String, long[]>> found) {
        List<WhatWasLearnt.Table> tables = new ArrayList<>();
        found.forEach((factor, byReport) -> {
            List<String> levels = FOUND.get(factor);
            List<String> reports = new ArrayList<>(levels);
            reports.add("");
            List<WhatWasLearnt.Row> rows = reports.stream()
                    .filter(byReport::containsKey)
                    .map(report -> row(report, byReport.get(report)))
                    .toList();
            tables.add(new WhatWasLearnt.Table(factor, levels, rows));
        });
        return tables;
    }

    private static WhatWasLearnt.Row row(String reported, long[] counts) {
        long all = 0;
        for (long count : counts) {
            all += count;
        }
        List<Double> shares = new ArrayList<>();
        for (long count : counts) {
            shares.add(WhatWasLearnt.rounded((double) count / all));
        }
        return new WhatWasLearnt.Row(reported, all, shares);
    }
}
