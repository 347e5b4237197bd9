package org.earslot.duration.predict;

import java.util.Arrays;
import org.earslot.duration.table.Names;

/**
 * The derivative of a location by the coefficients, see {@link Location}: the columns that it touches, and the block of the
 * visit's group. Reusable, for one thread.
 */
public final class Gradient {

    private final Layout layout;

    /** Columns touched, {@link #count} of them. */
    public final int[] column;

    public int count;

    /** By column; of those touched only. */
    public final double[] value;

    /** In the block of the visit's group. */
    public final double[] local;

    private final int[] mark;
    private int stamp;

    public Gradient(Layout layout) {
        this.layout = layout;
        column = new int[layout.width];
        value = new double[layout.width];
        mark = new int[layout.width];
        local = new double[layout.blockWidth];
    }

    /** All 0. */
    public void clear() {
        stamp++;
        count = 0;
        Arrays.fill(local, 0);
    }

    public void add(int to, double more) {
        if (to == Layout.NONE || more == 0) {
            return;
        }
        if (mark[to] != stamp) {
            mark[to] = stamp;
            column[count++] = to;
            value[to] = more;
        } else {
            value[to] += more;
        }
    }

    /**
     * What {@link Location#inside} depends on.
     *
     * @param share of the minutes that the segment takes
     */
    public void inside(int kind, int side, double late, double share) {
        if (kind == Names.NONE) {
            if (late > 0) {
                add(layout.lateColumn, share * late);
            }
            return;
        }
        local[layout.kindInBlock(kind)] += share;
        if (side != Names.NONE) {
            local[layout.sideInBlock(side)] += share;
        }
    }

    /** What {@link Location#beyond} depends on, so many times. */
    public void beyond(double late, double times) {
        local[0] = times;
        for (int bend = 0; bend < layout.hurry.length && late > 0; bend++) {
            double minutes = Layout.hurry(bend, late);
            if (minutes > 0) {
                add(layout.hurry[bend], times * minutes);
            }
        }
    }
}
