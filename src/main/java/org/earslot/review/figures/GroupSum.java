package org.earslot.review.figures;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/**
 * What visits of the same groups add up to. A visit whose two ears differ belongs to both their groups, and still counts
 * once if both are pooled.
 *
 * @param groups of one dimension
 * @param measured visits whose overrun can be told
 * @param overran those that overran
 * @param over their minutes over, all together
 * @param caused minutes that patients waited because these visits took long
 */
public record GroupSum(List<String> groups, int measured, int overran, double over, double caused) {

    /** One for each visit whose overrun can be told. */
    public static List<GroupSum> of(
            Dimension by, List<MeasuredVisit> visits, Map<UUID, Double> waitsCaused, ZoneId zone) {
        List<GroupSum> each = new ArrayList<>();
        for (MeasuredVisit visit : visits) {
            visit.over()
                    .ifPresent(over -> each.add(new GroupSum(
                            by.groups(visit, zone),
                            1,
                            over > 0 ? 1 : 0,
                            over,
                            waitsCaused.getOrDefault(visit.id(), 0.0))));
        }
        return each;
    }

    GroupSum plus(GroupSum more) {
        return new GroupSum(
                groups, measured + more.measured, overran + more.overran, over + more.over, caused + more.caused);
    }

    /** All of them as one, of no group. */
    static GroupSum whole(Collection<GroupSum> sums) {
        return sums.stream().reduce(new GroupSum(List.of(), 0, 0, 0, 0), GroupSum::plus);
    }

    Share overruns() {
        return new Share(overran, measured);
    }
}
