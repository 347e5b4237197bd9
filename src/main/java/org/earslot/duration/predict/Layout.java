package org.earslot.duration.predict;

import org.earslot.duration.table.Names;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Vocabulary;

/**
 * Which coefficient stands in which column. Immutable; drawn up by {@link org.earslot.duration.fit.LayoutBuilder}.
 *
 * <p>Fixed columns: minutes paid once; minutes of each kind of part; every level of every factor but its reference, in
 * the once place and for each kind; numbers; lateness. Beside them every group has a block of its own, of the same width
 * for all: its factor on the whole visit, on each kind, and on each level of {@link Vocabulary#SIDE}. Blocks of
 * different groups never meet in a row, which keeps the normal equations an arrow.
 */
public final class Layout {

    /** No column: the reference level, or something not in the table. */
    public static final int NONE = -1;

    public final Vocabulary vocabulary;
    public final Priors priors;
    public final int width;
    public final int kinds;
    final int places;

    /** The column of the minutes, by place: 0 once, then the kinds. */
    public final int[] base;

    /** Columns by place, factor and level; null where the factor is not in that place. */
    public final int[][][] columns;

    /** Columns of numbers, by place and factor. */
    public final int[][] numberColumns;

    /** What is taken off each number, and what it is then divided by. */
    public final double[] numberCentre;

    public final double[] numberScale;

    /** Lateness in what is paid once, and its two bends on the whole visit; all {@link #NONE} where nobody was late. */
    final int lateColumn;

    final int[] hurry;

    /** From this day on practice is taken to differ; none before the end of days. */
    public final long changeDay;

    /** What has changed since, by place; {@link #NONE} where nothing has. */
    public final int[] since;

    /** The assumed logarithm of the minutes paid once. */
    final double onceMean;

    /** The width of a group's block: whole, kinds, sides. */
    public final int blockWidth;

    public final int sideFactor;
    final int changeFactor;

    /**
     * The columns of numbers.
     *
     * @param columns by place and factor
     * @param centre what is taken off each number, by factor
     * @param scale what it is then divided by
     */
    public record Numbers(int[][] columns, double[] centre, double[] scale) {}

    /**
     * The columns of lateness.
     *
     * @param once in what is paid once
     * @param hurry its two bends on the whole visit
     */
    public record Lateness(int once, int[] hurry) {}

    /**
     * A change of practice.
     *
     * @param day the first after it, {@code Long.MAX_VALUE} for none
     * @param columns by place
     */
    public record Change(long day, int[] columns) {}

    public Layout(
            Vocabulary vocabulary,
            Priors priors,
            int width,
            int[] base,
            int[][][] columns,
            Numbers numbers,
            Lateness lateness,
            Change change,
            double onceMean) {
        this.vocabulary = vocabulary;
        this.priors = priors;
        this.width = width;
        this.base = base;
        this.columns = columns;
        numberColumns = numbers.columns();
        numberCentre = numbers.centre();
        numberScale = numbers.scale();
        lateColumn = lateness.once();
        hurry = lateness.hurry();
        changeDay = change.day();
        since = change.columns();
        this.onceMean = onceMean;
        kinds = vocabulary.kinds.size();
        places = kinds + 1;
        sideFactor = vocabulary.factors.find(Vocabulary.SIDE);
        changeFactor = vocabulary.factors.find(Vocabulary.CHANGE);
        int sides =
                sideFactor == Names.NONE ? 0 : vocabulary.levels.get(sideFactor).size();
        blockWidth = 1 + kinds + sides;
    }

    /** The column in a group's block of a kind; {@link #NONE} for the once place. */
    int kindInBlock(int kind) {
        return kind == Names.NONE ? NONE : 1 + kind;
    }

    /** The column in a group's block of a side. */
    int sideInBlock(int level) {
        return 1 + kinds + level;
    }

    /** What is assumed of the minutes of a kind of part that no visit had. */
    Prior unseenBase(String kind) {
        Prior line = priors.line(Place.PART, kind, "-", "-");
        // Where the level of minutes is taken from the table, so is that of a kind never seen.
        return priors.knowMinutes()
                ? line
                : new Prior(Place.PART, kind, "-", "-", Math.exp(onceMean), line.spread(), line.reason());
    }

    /** Minutes late within a bend: up to 12 minutes, then up to 30; beyond, people hurry no more. */
    static double hurry(int bend, double late) {
        return bend == 0 ? Math.min(12, late) : Math.min(18, Math.max(0, late - 12));
    }
}
