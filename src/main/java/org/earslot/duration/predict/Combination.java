package org.earslot.duration.predict;

import java.util.Arrays;

/**
 * One combination of the points that the segments of a visit may be at: the minutes of all segments together, and how
 * likely it is. Reusable, for one thread.
 */
public final class Combination {

    /** By segment: its point. */
    public int[] point = new int[4];

    /** m_v0 + m_v1 + ..., see {@link Location}. */
    public double minutes;

    public double share;

    /** Goes to the first combination of these segments, {@code count} of them. */
    public void first(LocationGrid[] segments, int count) {
        if (point.length < count) {
            point = new int[2 * count];
        }
        Arrays.fill(point, 0, count, 0);
        add(segments, count);
    }

    /** Goes to the next; after the last comes the first. */
    public void next(LocationGrid[] segments, int count) {
        for (int s = 0; s < count && ++point[s] == segments[s].count; s++) {
            point[s] = 0;
        }
        add(segments, count);
    }

    private void add(LocationGrid[] segments, int count) {
        double sum = 0;
        double product = 1;
        for (int s = 0; s < count; s++) {
            LocationGrid segment = segments[s];
            int here = point[s];
            sum += segment.minutes[here];
            product *= segment.share[here];
        }
        minutes = sum;
        share = product;
    }
}
