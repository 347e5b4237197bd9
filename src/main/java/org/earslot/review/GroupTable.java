package org.earslot.review;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;

/**
 * Overruns by the groups of one dimension, in the order of its scale, never ranked by their shares: the order of shares
 * is mostly chance. Groups of fewer than {@link #SMALL} measured visits are pooled into one line at the end.
 *
 * @param overlapping whether a visit may stand in two lines, since its two ears may differ
 */
public record GroupTable(Dimension by, List<GroupLine> lines, boolean overlapping) {

    /** With fewer visits the 95 % range of a share is wider than 0.5 at a share of a half. */
    public static final int SMALL = 12;

    static GroupTable of(Dimension by, List<MeasuredVisit> visits, Map<UUID, Double> waitsCaused, ZoneId zone) {
        Map<String, List<MeasuredVisit>> groups = new TreeMap<>(inOrder(by));
        List<MeasuredVisit> measured =
                visits.stream().filter(visit -> visit.over().isPresent()).toList();
        for (MeasuredVisit visit : measured) {
            by.groups(visit, zone)
                    .forEach(group -> groups.computeIfAbsent(group, name -> new ArrayList<>())
                            .add(visit));
        }
        List<GroupLine> lines = new ArrayList<>();
        List<String> small = new ArrayList<>();
        Set<MeasuredVisit> pool = new HashSet<>();
        groups.forEach((group, members) -> {
            if (members.size() < SMALL) {
                small.add(group);
                pool.addAll(members);
            } else {
                lines.add(line(group, List.of(), members, measured, waitsCaused));
            }
        });
        if (small.size() == 1) {
            lines.add(line(small.get(0), List.of(), pool, measured, waitsCaused));
        } else if (!small.isEmpty()) {
            lines.add(line("", small, pool, measured, waitsCaused));
        }
        return new GroupTable(by, lines, by == Dimension.WAX || by == Dimension.CANAL || by == Dimension.DEPTH);
    }

    private static GroupLine line(
            String group,
            List<String> pooled,
            Collection<MeasuredVisit> members,
            List<MeasuredVisit> all,
            Map<UUID, Double> waitsCaused) {
        Share share = overruns(members);
        Share whole = overruns(all);
        Share rest = new Share(whole.count() - share.count(), whole.of() - share.of());
        boolean small = members.size() < SMALL;
        return new GroupLine(
                group,
                pooled,
                small,
                share,
                share.count() == 0
                        ? null
                        : members.stream().mapToDouble(GroupTable::over).sum() / share.count(),
                members.stream()
                        .mapToDouble(visit -> waitsCaused.getOrDefault(visit.id(), 0.0))
                        .sum(),
                small || !pooled.isEmpty() ? Change.NOT_KNOWN : share.against(rest));
    }

    static Share overruns(Collection<MeasuredVisit> measured) {
        long overran = measured.stream().filter(visit -> over(visit) > 0).count();
        return new Share((int) overran, measured.size());
    }

    private static double over(MeasuredVisit visit) {
        return visit.over().orElseThrow();
    }

    private static Comparator<String> inOrder(Dimension by) {
        return Comparator.comparing(String::isEmpty)
                .thenComparing(group -> by.order().indexOf(group))
                .thenComparing(Comparator.naturalOrder());
    }
}
