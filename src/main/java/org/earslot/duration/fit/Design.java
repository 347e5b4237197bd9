package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Priors;
import org.jspecify.annotations.Nullable;

/**
 * The columns that each segment of each past visit touches, which of its findings are not known, and what is assumed of
 * the coefficient of each column.
 */
final class Design {

    /** A factor of which fewer than this share of findings is written down is not used. */
    private static final double LEAST_RECORDED = 0.05;

    /** Unless there are fewer mentions than this. */
    private static final int FEW = 60;

    final PastVisits visits;
    final Layout layout;

    /** Assumed coefficients by column, and their assumed precision, dense. */
    final double[] priorMean;

    final double[][] priorPrecision;

    /** Which factors are written down often enough to be used. */
    final boolean[] recorded;

    final int[] first;
    int[] column;
    double @Nullable [] value;

    /** Whether a segment has a finding not known, of a factor that matters there. */
    final boolean[] open;

    /** The side of a segment, or {@link Names#NONE}. */
    final int[] side;

    /** Visits that touch each column. */
    final double[] touched;

    private int length;

    Design(PastVisits visits, Priors priors) {
        this(visits, priors, Long.MAX_VALUE);
    }

    /** @param changeDay from which on every place has minutes of its own again, {@code Long.MAX_VALUE} for never */
    Design(PastVisits visits, Priors priors, long changeDay) {
        this.visits = visits;
        LayoutBuilder builder = new LayoutBuilder(visits, priors, changeDay);
        layout = builder.layout();
        priorMean = builder.mean();
        priorPrecision = builder.precision();
        recorded = recorded();
        first = new int[visits.segments + 1];
        open = new boolean[visits.segments];
        side = new int[visits.segments];
        touched = new double[layout.width];
        column = new int[Math.max(16, visits.terms + visits.segments)];
        value = visits.withNumbers ? new double[column.length] : null;
        for (int row = 0; row < visits.count; row++) {
            boolean changed = visits.day[row] >= layout.changeDay;
            for (int s = visits.firstSegment[row]; s < visits.firstSegment[row + 1]; s++) {
                addSegment(s, changed);
            }
        }
        column = Arrays.copyOf(column, length);
    }

    private boolean[] recorded() {
        int factors = layout.vocabulary.factors.size();
        long[] mentions = new long[factors];
        long[] found = new long[factors];
        for (int t = 0; t < visits.terms; t++) {
            long term = visits.term[t];
            int factor = PastVisits.factorOf(term);
            mentions[factor]++;
            if (PastVisits.isNumber(term) || PastVisits.foundOf(term) != Names.NONE) {
                found[factor]++;
            }
        }
        boolean[] recorded = new boolean[factors];
        for (int factor = 0; factor < factors; factor++) {
            recorded[factor] = mentions[factor] < FEW || found[factor] >= LEAST_RECORDED * mentions[factor];
        }
        return recorded;
    }

    private void addSegment(int s, boolean changed) {
        int place = visits.kind[s] + 1;
        side[s] = Names.NONE;
        push(layout.base[place], 1);
        if (changed) {
            push(layout.since[place], 1);
        }
        for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
            long term = visits.term[t];
            int factor = PastVisits.factorOf(term);
            if (PastVisits.isNumber(term)) {
                double centred = (visits.numberOf(term) - layout.numberCentre[factor]) / layout.numberScale[factor];
                push(layout.numberColumns[place][factor], centred);
                continue;
            }
            int found = PastVisits.foundOf(term);
            if (factor == layout.sideFactor && place > 0) {
                side[s] = found;
            }
            int[] columns = layout.columns[place][factor];
            if (columns == null || !recorded[factor]) {
                continue;
            }
            if (found == Names.NONE) {
                open[s] |= columns.length > 1;
            } else if (columns[found] != Layout.NONE) {
                push(columns[found], 1);
            }
        }
        first[s + 1] = length;
    }

    private void push(int to, double times) {
        if (length == column.length) {
            column = Arrays.copyOf(column, 2 * length);
            value = value == null ? null : Arrays.copyOf(value, 2 * length);
        }
        column[length] = to;
        if (value != null) {
            value[length] = times;
        }
        touched[to]++;
        length++;
    }
}
