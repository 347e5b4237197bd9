package org.earslot.duration;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.Vocabulary;

/**
 * Where a table is too thin or too plain to learn much from. A fit answers all the same, on what is assumed; this says
 * where it leans on that.
 *
 * @param sort what is weak
 * @param name the kind of part or the group it is about, "" for the whole table
 * @param visits how many visits there are of it; unweighted
 */
public record WeakSpot(Sort sort, String name, long visits) {

    /** Fewer visits than this in all: a log-linear regression on them would be a fifth worse than a perfect forecast. */
    static final int FEW = 150;

    /** Fewer visits of a kind of part than this. */
    static final int FEW_OF_KIND = 30;

    /** Fewer visits of a group than this. */
    static final int FEW_OF_GROUP = 10;

    /** The sorts of weakness. */
    public enum Sort {
        /** There is no visit at all. */
        NO_VISITS,
        /** There are fewer than {@value WeakSpot#FEW} visits. */
        FEW_VISITS,
        /** A kind of part has fewer than {@value WeakSpot#FEW_OF_KIND} visits, or none. */
        FEW_OF_KIND,
        /** All visits have the same number of parts: what is paid once cannot be told from the parts' minutes. */
        PARTS_NEVER_VARY,
        /** A group has fewer than {@value WeakSpot#FEW_OF_GROUP} visits. */
        FEW_OF_GROUP,
        /** One group has done all visits: how much groups differ is assumed. */
        ONE_GROUP,
        /** More than half of the visits were stopped early. */
        MOSTLY_STOPPED_EARLY,
        /** The minutes take at most two values: how much visits vary cannot be seen. */
        MINUTES_HARDLY_VARY
    }

    /**
     * What is weak about a table.
     *
     * @param priors they name kinds that may be asked about though no visit had them
     */
    public static List<WeakSpot> of(List<VisitRow> rows, Priors priors) {
        if (rows.isEmpty()) {
            return List.of(new WeakSpot(Sort.NO_VISITS, "", 0));
        }
        List<WeakSpot> weak = new ArrayList<>();
        if (rows.size() < FEW) {
            weak.add(new WeakSpot(Sort.FEW_VISITS, "", rows.size()));
        }
        kinds(rows, priors).forEach((kind, visits) -> {
            if (visits < FEW_OF_KIND) {
                weak.add(new WeakSpot(Sort.FEW_OF_KIND, kind, visits));
            }
        });
        if (rows.stream().mapToInt(row -> row.terms().parts().size()).distinct().count() == 1
                && !rows.get(0).terms().parts().isEmpty()) {
            weak.add(new WeakSpot(Sort.PARTS_NEVER_VARY, "", rows.size()));
        }
        groups(rows, weak);
        long cut = rows.stream().filter(VisitRow::stoppedEarly).count();
        if (2 * cut > rows.size()) {
            weak.add(new WeakSpot(Sort.MOSTLY_STOPPED_EARLY, "", cut));
        }
        if (rows.stream().mapToDouble(VisitRow::minutes).distinct().limit(3).count() < 3) {
            weak.add(new WeakSpot(Sort.MINUTES_HARDLY_VARY, "", rows.size()));
        }
        return weak;
    }

    private static Map<String, Long> kinds(List<VisitRow> rows, Priors priors) {
        Map<String, Long> kinds = new TreeMap<>();
        Vocabulary.of(priors).kinds.all().forEach(kind -> kinds.put(kind, 0L));
        for (VisitRow row : rows) {
            row.terms().parts().stream().map(Part::kind).distinct().forEach(kind -> kinds.merge(kind, 1L, Long::sum));
        }
        return kinds;
    }

    private static void groups(List<VisitRow> rows, List<WeakSpot> weak) {
        Map<String, Long> groups = new LinkedHashMap<>();
        for (VisitRow row : rows) {
            String group = row.terms().group();
            if (group != null) {
                groups.merge(group, 1L, Long::sum);
            }
        }
        groups.forEach((group, visits) -> {
            if (visits < FEW_OF_GROUP) {
                weak.add(new WeakSpot(Sort.FEW_OF_GROUP, group, visits));
            }
        });
        if (groups.size() == 1) {
            weak.add(new WeakSpot(Sort.ONE_GROUP, "", rows.size()));
        }
    }
}
