package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.findings.Circumstances;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Combination;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.predict.LocationGrid;
import org.earslot.duration.table.Names;
import org.jspecify.annotations.Nullable;

/**
 * A past visit with findings not known: every combination of what they may be is weighed by how well it explains the
 * minutes. Works within a {@link RowStep}; reusable, for one thread.
 */
final class MarginalisedRow {

    /** Points kept of an open segment. */
    private static final int OPEN_POINTS = 8;

    /** Three open segments; any more stand at their mean. */
    private static final int MOST_COMBINATIONS = OPEN_POINTS * OPEN_POINTS * OPEN_POINTS;

    private final Fit fit;
    private final ReportTables tables;
    private final PastVisits visits;
    private final Design design;
    private final Layout layout;
    private final RowStep step;
    private final SweepAccumulator sums;

    private LocationGrid[] bins = new LocationGrid[0];
    private final Combination combination = new Combination();
    private double[] shares = new double[16];
    private final Circumstances.Buffer given = new Circumstances.Buffer();
    private double[][] expectedSlope = new double[0][];
    private double[][] expectedPrecision = new double[0][];

    MarginalisedRow(Fit fit, RowStep step, SweepAccumulator sums) {
        this.fit = fit;
        tables = fit.stretch.tables();
        this.step = step;
        this.sums = sums;
        visits = fit.visits;
        design = fit.design;
        layout = fit.layout;
    }

    /** Every combination of the open segments' points is weighed by how well it explains the minutes. */
    void evaluate(int row, double effect, double @Nullable [] block) {
        int first = visits.firstSegment[row];
        int count = visits.firstSegment[row + 1] - first;
        if (bins.length < count) {
            int had = bins.length;
            bins = Arrays.copyOf(bins, count);
            expectedSlope = Arrays.copyOf(expectedSlope, count);
            expectedPrecision = Arrays.copyOf(expectedPrecision, count);
            for (int s = had; s < count; s++) {
                bins[s] = new LocationGrid(OPEN_POINTS);
                expectedSlope[s] = new double[64];
                expectedPrecision[s] = new double[64];
            }
        }
        int combinations = 1;
        for (int s = 0; s < count; s++) {
            bins[s].start(step.known(first + s, row, block));
            if (design.open[first + s]) {
                spreadOpen(first + s, row, bins[s]);
            }
            if (combinations * bins[s].count > MOST_COMBINATIONS) {
                bins[s].collapse();
            }
            combinations *= bins[s].count;
            Arrays.fill(expectedSlope[s], 0, bins[s].count, 0);
            Arrays.fill(expectedPrecision[s], 0, bins[s].count, 0);
        }
        weigh(row, step.beyond(row, effect, block), count, combinations);
        openDesign(row, first, count);
    }

    private void spreadOpen(int s, int row, LocationGrid into) {
        int place = visits.kind[s] + 1;
        tables.circumstances.gather(visits, row, s, given);
        for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
            long term = visits.term[t];
            int factor = PastVisits.factorOf(term);
            int[] columns = PastVisits.isNumber(term) ? null : layout.columns[place][factor];
            if (columns == null
                    || columns.length < 2
                    || !design.recorded[factor]
                    || PastVisits.foundOf(term) != Names.NONE) {
                continue;
            }
            if (shares.length < columns.length) {
                shares = new double[columns.length];
            }
            tables.of(factor)
                    .shares(PastVisits.reportedOf(term), visits.source[row], given, visits.recollection(t), shares);
            into.spread(columns, shares, fit.beta);
        }
    }

    private void weigh(int row, double beyond, int count, int combinations) {
        double weight = fit.stretch.weights()[row];
        double total = 0;
        step.slope = 0;
        step.precision = 0;
        double information = 0;
        double odd = 0;
        double ordinary = 0;
        double oddFirst = 0;
        double oddSquare = 0;
        combination.first(bins, count);
        for (int number = 0; number < combinations; number++, combination.next(bins, count)) {
            step.likelihood(row, Math.log(combination.minutes) + beyond);
            double l = combination.share * Math.max(1e-280, step.noise.likelihood);
            total += l;
            step.slope += l * step.noise.slope;
            step.precision += l * step.noise.precision;
            information += l * (step.noise.information - step.noise.slope * step.noise.slope);
            odd += l * step.noise.outlier;
            ordinary += l * (1 - step.noise.outlier) * step.noise.ordinarySquare;
            oddFirst += l * step.noise.outlier * step.noise.outlierFirst;
            oddSquare += l * step.noise.outlier * step.noise.outlierSquare;
            for (int s = 0; s < count; s++) {
                int point = combination.point[s];
                double share = bins[s].minutes[point] / combination.minutes;
                expectedSlope[s][point] += l * step.noise.slope * share;
                expectedPrecision[s][point] += l * step.noise.precision * share;
            }
        }
        double mean = step.slope / total;
        step.information = weight * (information / total + mean * mean);
        double scale = weight / total;
        step.slope *= scale;
        step.precision *= scale;
        for (int s = 0; s < count; s++) {
            for (int point = 0; point < bins[s].count; point++) {
                expectedSlope[s][point] *= scale;
                expectedPrecision[s][point] *= scale;
            }
        }
        sums.logLikelihood += weight * Math.log(total);
        step.sumUp(row, weight, odd * scale, ordinary * scale, oddFirst * scale, oddSquare * scale);
    }

    /** The design is averaged with the rows' precision, the gradient with their slopes. */
    private void openDesign(int row, int first, int count) {
        // The gradient by its own weights.
        for (int s = 0; s < count; s++) {
            openSegment(first + s, row, bins[s], expectedSlope[s], 1);
        }
        step.gradient.beyond(visits.late[row], step.slope);
        step.addRight(row, 1);
        step.gradient.clear();
        double scale = step.precision > 0 ? 1 / step.precision : 0;
        for (int s = 0; s < count; s++) {
            openSegment(first + s, row, bins[s], expectedPrecision[s], scale);
        }
        step.gradient.beyond(visits.late[row], 1);
    }

    private void openSegment(int s, int row, LocationGrid of, double[] expected, double scale) {
        double sum = 0;
        for (int point = 0; point < of.count; point++) {
            sum += expected[point];
        }
        step.addSegment(s, row, sum * scale);
        for (int slot = 0; slot < of.slots; slot++) {
            double value = 0;
            for (int point = 0; point < of.count; point++) {
                value += expected[point] * of.design[point][slot];
            }
            if (value != 0) {
                step.gradient.add(of.slotColumn[slot], value * scale);
            }
        }
    }
}
