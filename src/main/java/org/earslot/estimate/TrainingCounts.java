package org.earslot.estimate;

import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;

/**
 * How many visits stand behind each thing learnt.
 *
 * @param kinds by method and number of ears
 * @param levels by method (empty: paid once), factor and level; found ones, and certain ones
 * @param practitioners by practitioner, in the order in which they first come, and method
 * @param tables what was found after each report
 */
record TrainingCounts(
        Map<KindKey, Long> kinds,
        Map<LevelKey, Long> levels,
        Map<String, Map<String, Long>> practitioners,
        List<ModelReport.Table> tables) {

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

    static TrainingCounts of(List<VisitRow> rows) {
        Map<KindKey, Long> kinds = new TreeMap<>();
        Map<LevelKey, Long> levels = new TreeMap<>();
        Map<String, Map<String, Long>> practitioners = new LinkedHashMap<>();
        FindingCounts found = new FindingCounts();
        for (VisitRow row : rows) {
            List<Part> parts = row.terms().parts();
            Set<LevelKey> seen = new HashSet<>();
            row.terms().once().forEach(term -> level("", term, seen));
            for (Part part : parts) {
                part.terms().forEach(term -> level(part.kind(), term, seen));
                part.terms().forEach(term -> {
                    if (term instanceof Term.Finding finding) {
                        found.add(finding);
                    }
                });
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
        return new TrainingCounts(kinds, levels, practitioners, found.tables());
    }

    private static void level(String method, Term term, Set<LevelKey> seen) {
        if (term instanceof Term.Level level) {
            seen.add(new LevelKey(method, level.factor(), level.level()));
        } else if (term instanceof Term.Finding finding && finding.found() != null) {
            seen.add(new LevelKey(method, finding.factor(), finding.found()));
        }
    }
}
