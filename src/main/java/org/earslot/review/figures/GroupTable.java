package org.earslot.review.figures;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
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

    public static GroupTable of(Dimension by, List<MeasuredVisit> visits, Map<UUID, Double> waitsCaused, ZoneId zone) {
        return of(by, GroupSum.of(by, visits, waitsCaused, zone));
    }

    public static GroupTable of(Dimension by, Collection<GroupSum> sums) {
        Map<String, GroupSum> groups = new TreeMap<>(inOrder(by));
        sums.forEach(sum -> sum.groups().forEach(group -> groups.merge(group, sum, GroupSum::plus)));
        Share whole = GroupSum.whole(sums).overruns();
        List<GroupLine> lines = new ArrayList<>();
        List<String> small = new ArrayList<>();
        groups.forEach((group, sum) -> {
            if (sum.measured() < SMALL) {
                small.add(group);
            } else {
                lines.add(line(group, List.of(), sum, whole));
            }
        });
        if (!small.isEmpty()) {
            GroupSum pool = GroupSum.whole(sums.stream()
                    .filter(sum -> sum.groups().stream().anyMatch(small::contains))
                    .toList());
            lines.add(small.size() == 1 ? line(small.get(0), List.of(), pool, whole) : line("", small, pool, whole));
        }
        return new GroupTable(by, lines, by == Dimension.WAX || by == Dimension.CANAL || by == Dimension.DEPTH);
    }

    private static GroupLine line(String group, List<String> pooled, GroupSum sum, Share whole) {
        Share share = sum.overruns();
        Share rest = new Share(whole.count() - share.count(), whole.of() - share.of());
        boolean small = sum.measured() < SMALL;
        return new GroupLine(
                group,
                pooled,
                small,
                share,
                share.count() == 0 ? null : sum.over() / share.count(),
                sum.caused(),
                small || !pooled.isEmpty() ? Change.NOT_KNOWN : share.against(rest));
    }

    private static Comparator<String> inOrder(Dimension by) {
        return Comparator.comparing(String::isEmpty)
                .thenComparing(group -> by.order().indexOf(group))
                .thenComparing(Comparator.naturalOrder());
    }
}
