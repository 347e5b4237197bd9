package org.earslot.plan;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.earslot.flow.plan.TradeOff;
import org.earslot.flow.plan.TradeOff.Point;

/**
 * What a way of setting slots gives if the session ends late exactly as often as is accepted, read straight between
 * the numbers of visits that were worked out.
 *
 * @param visits a session
 * @param atLeast whether even the most visits worked out end late no more often than is accepted
 */
public record AtAcceptedOvertime(
        TradeOff.Policy policy,
        double visits,
        double meanWait,
        double waitOfNineInTen,
        double overtimeMinutes,
        boolean atLeast) {

    /** Empty if the policy is not worked out, or even the fewest visits end late more often. */
    public static Optional<AtAcceptedOvertime> of(List<Point> points, TradeOff.Policy policy, double accepted) {
        List<Point> own = points.stream()
                .filter(point -> point.policy() == policy)
                .sorted(Comparator.comparingInt(Point::visits))
                .toList();
        if (own.isEmpty() || own.get(0).pastEnd() > accepted) {
            return Optional.empty();
        }
        for (int i = 1; i < own.size(); i++) {
            if (own.get(i).pastEnd() > accepted) {
                return Optional.of(between(own.get(i - 1), own.get(i), accepted));
            }
        }
        return Optional.of(at(own.get(own.size() - 1), true));
    }

    private static AtAcceptedOvertime at(Point point, boolean atLeast) {
        return new AtAcceptedOvertime(
                point.policy(),
                point.visits(),
                point.meanWait(),
                point.waitOfNineInTen(),
                point.overtimeMinutes(),
                atLeast);
    }

    private static AtAcceptedOvertime between(Point below, Point above, double accepted) {
        double way = (accepted - below.pastEnd()) / (above.pastEnd() - below.pastEnd());
        return new AtAcceptedOvertime(
                below.policy(),
                mixed(below.visits(), above.visits(), way),
                mixed(below.meanWait(), above.meanWait(), way),
                mixed(below.waitOfNineInTen(), above.waitOfNineInTen(), way),
                mixed(below.overtimeMinutes(), above.overtimeMinutes(), way),
                false);
    }

    private static double mixed(double from, double to, double way) {
        return from + way * (to - from);
    }
}
