package org.earslot.duration.judge;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * The distribution of probability integral transforms where some visits were stopped early, by Kaplan and Meier (1958).
 *
 * <p>A visit stopped early at y says only that its transform lies above F(y). On the scale of the transform all visits are
 * comparable, so the probability of such a visit is handed on, in equal parts, to the visits still at risk beyond it. If
 * the forecasts are right and the stop does not depend on what is left to do, the result is uniform on (0, 1). What is
 * left beyond the last completed visit, where the last was stopped early, is spread evenly from there to 1.
 */
final class PitScale {

    private final double[] points;
    /** Probability up to and with {@code points[i]}. */
    private final double[] upTo;
    /** From where what is left is spread evenly up to 1. */
    private final double spreadFrom;

    private PitScale(double[] points, double[] upTo, double spreadFrom) {
        this.points = points;
        this.upTo = upTo;
        this.spreadFrom = spreadFrom;
    }

    /**
     * @param transform of one visit, from 0 to 1
     * @param stoppedEarly whether it is a lower bound only
     */
    record Point(double transform, boolean stoppedEarly) {}

    /** @param visits at least one, any order */
    static PitScale of(List<Point> visits) {
        List<Point> sorted = visits.stream()
                // A visit completed at the very transform where another was stopped early comes first (the convention).
                .sorted(Comparator.comparingDouble(Point::transform).thenComparing(Point::stoppedEarly))
                .toList();
        int n = sorted.size();
        double[] points = new double[n];
        double[] upTo = new double[n];
        double alive = 1;
        int kept = 0;
        double last = 0;
        for (int i = 0; i < n; i++) {
            Point point = sorted.get(i);
            last = point.transform();
            if (!point.stoppedEarly()) {
                alive *= 1 - 1.0 / (n - i);
                points[kept] = point.transform();
                upTo[kept++] = 1 - alive;
            }
        }
        return new PitScale(Arrays.copyOf(points, kept), Arrays.copyOf(upTo, kept), last);
    }

    /** The share of visits with a transform up to {@code u}, from 0 to 1. */
    double upTo(double u) {
        int found = Arrays.binarySearch(points, u);
        int after = found < 0 ? -found - 1 : found;
        while (after < points.length && points[after] <= u) {
            after++;
        }
        double stepped = after == 0 ? 0 : upTo[after - 1];
        double left = left();
        if (left <= 0 || u <= spreadFrom) {
            return stepped;
        }
        return Math.min(1, stepped + left * (spreadFrom < 1 ? (u - spreadFrom) / (1 - spreadFrom) : 1));
    }

    /**
     * Where a visit stopped early at the transform {@code u} may have ended: {@code count} equally likely transforms, the
     * middles of {@code count} parts of what lies beyond u.
     */
    double[] beyond(double u, int count) {
        double before = upTo(u);
        double[] ends = new double[count];
        for (int i = 0; i < count; i++) {
            ends[i] = Math.max(u, inverse(before + (i + 0.5) / count * (1 - before)));
        }
        return ends;
    }

    private double inverse(double share) {
        int found = Arrays.binarySearch(upTo, share);
        int at = found < 0 ? -found - 1 : found;
        if (at < points.length) {
            return points[at];
        }
        double left = left();
        return left <= 0 ? 1 : spreadFrom + (1 - spreadFrom) * Math.min(1, (share - (1 - left)) / left);
    }

    private double left() {
        return points.length == 0 ? 1 : 1 - upTo[points.length - 1];
    }
}
