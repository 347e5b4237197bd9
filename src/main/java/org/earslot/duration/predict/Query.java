package org.earslot.duration.predict;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.table.Names;

/** A visit to be predicted, in the numbers of a fit: what is known of it and the shares of what is not. */
public final class Query {

    /** The group's number, {@link Names#NONE} for one never seen. */
    final int group;

    final double late;

    /** The person's own log factor and its variance. */
    final double personMean;

    final double personVariance;

    /** What is paid once, then the parts. */
    final List<Segment> segments = new ArrayList<>();

    Query(int group, double late, double personMean, double personVariance) {
        this.group = group;
        this.late = late;
        this.personMean = personMean;
        this.personVariance = personVariance;
    }

    /** Findings of one factor in two parts, known together. */
    final List<Pair> pairs = new ArrayList<>();

    /** Terms of all segments. */
    int entries() {
        int count = 0;
        for (Segment segment : segments) {
            count += segment.entries.size();
        }
        return count;
    }

    /** What is paid once, or a part. */
    static final class Segment {

        final String part;

        /** {@link Names#NONE} for what is paid once, and for a kind never seen. */
        final int kind;

        final String kindName;

        int side = Names.NONE;
        final List<Entry> entries = new ArrayList<>();

        /** Of terms and kinds never seen: what the priors say of them, on the log scale. */
        double unseenMean;

        double unseenVariance;

        /** Whether it is a part of a kind never seen. */
        boolean unseen() {
            return kind == Names.NONE && !kindName.isEmpty();
        }

        Segment(String part, int kind, String kindName) {
            this.part = part;
            this.kind = kind;
            this.kindName = kindName;
        }
    }

    /**
     * One factor in two segments.
     *
     * @param together the chances of its levels in both, the first one's in rows
     */
    record Pair(int one, int other, int[] columns, int[] otherColumns, double[] together) {

        /**
         * The covariance of the two effects.
         *
         * @param effects of the columns, on the log scale
         */
        double covariance(double[] effects) {
            double product = 0;
            double first = 0;
            double second = 0;
            for (int i = 0; i < together.length; i++) {
                int column = columns[i / otherColumns.length];
                int otherColumn = otherColumns[i % otherColumns.length];
                double effect = column == Layout.NONE ? 0 : effects[column];
                double otherEffect = otherColumn == Layout.NONE ? 0 : effects[otherColumn];
                product += together[i] * effect * otherEffect;
                first += together[i] * effect;
                second += together[i] * otherEffect;
            }
            return product - first * second;
        }
    }

    /**
     * One term.
     *
     * @param factor its factor
     * @param label the level known or reported, "" where not known
     * @param columns the columns of the levels, or the one column of a number
     * @param shares the shares of the levels, or the one value of a number
     * @param number whether it is a number
     * @param finding whether it is a finding, to be told by tables
     */
    record Entry(int factor, String label, int[] columns, double[] shares, boolean number, boolean finding) {

        /** Whether one level is certain. */
        boolean certain() {
            for (double share : shares) {
                if (share == 1) {
                    return true;
                }
            }
            return number;
        }
    }
}
