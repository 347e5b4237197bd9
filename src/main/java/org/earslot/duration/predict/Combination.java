package org.earslot.duration.predict;

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

    /**
     * Goes to a combination.
     *
     * @param number from 0 to below the product of the segments' counts of points
     */
    public void at(LocationGrid[] segments, int count, int number) {
        if (point.length < count) {
            point = new int[2 * count];
        }
        double sum = 0;
        double product = 1;
        int rest = number;
        for (int s = 0; s < count; s++) {
            LocationGrid segment = segments[s];
            int here = rest % segment.count;
            rest /= segment.count;
            point[s] = here;
            sum += segment.minutes[here];
            product *= segment.share[here];
        }
        minutes = sum;
        share = product;
    }
}
