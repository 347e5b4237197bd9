package org.earslot.duration;

import java.util.Arrays;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Names;
import org.jspecify.annotations.Nullable;

/**
 * One past visit at the fit's present coefficients: what it says on its location, and the design of its location, each
 * column's share of the minutes. Adds itself to the sums of a pass as it goes. Reusable, for one thread.
 */
final class RowStep {

    private final Fit fit;
    private final PastVisits visits;
    private final Design design;
    private final Layout layout;
    private final SweepAccumulator sums;
    private final MarginalisedRow marginalisedRow;

    final Noise noise = new Noise();

    // The design: columns touched, and their values.
    final double[] accumulated;
    final int[] touched;
    int touchedCount;
    private final int[] mark;
    private int stamp;

    /** The design in the block of the visit's group. */
    final double[] local;

    /** The derivative of the log-likelihood by the location. */
    double slope;

    /** The precision that the location is taken at, and what is truly known of it ({@link Noise#information}). */
    double precision;

    double information;

    /** The expected square of the residual, in units of its noise. */
    double square;

    /** Share of the stubborn component over its variance, and that times the residual. */
    double odd;

    double oddFirst;

    private double[] minutes = new double[8];

    RowStep(Fit fit, SweepAccumulator sums) {
        this.fit = fit;
        this.sums = sums;
        visits = fit.visits;
        design = fit.design;
        layout = fit.layout;
        accumulated = new double[layout.width];
        mark = new int[layout.width];
        touched = new int[layout.width];
        local = new double[layout.blockWidth];
        noise.set(fit.sizes, fit.informative);
        marginalisedRow = new MarginalisedRow(fit, this, sums);
    }

    /** @param effect of the person, on the log scale */
    void evaluate(int row, double effect) {
        int group = visits.group[row];
        double @Nullable [] block = group == Names.NONE ? null : fit.block[group];
        startDesign();
        if (fit.open[row]) {
            marginalisedRow.evaluate(row, effect, block);
        } else {
            closedRow(row, effect, block);
        }
    }

    /** An empty design. */
    void startDesign() {
        stamp++;
        touchedCount = 0;
        Arrays.fill(local, 0);
    }

    void touch(int column, double value) {
        if (mark[column] != stamp) {
            mark[column] = stamp;
            touched[touchedCount++] = column;
            accumulated[column] = value;
        } else {
            accumulated[column] += value;
        }
    }

    /** The log minutes of all that is known of a segment. */
    double known(int segment, int row, double @Nullable [] block) {
        double sum = 0;
        double[] value = design.value;
        for (int c = design.first[segment]; c < design.first[segment + 1]; c++) {
            double b = fit.beta[design.column[c]];
            sum += value == null ? b : b * value[c];
        }
        int kind = visits.kind[segment];
        if (kind == Names.NONE) {
            if (layout.lateColumn != Layout.NONE) {
                sum += fit.beta[layout.lateColumn] * visits.late[row];
            }
        } else if (block != null) {
            sum += block[layout.kindInBlock(kind)];
            if (design.side[segment] != Names.NONE) {
                sum += block[layout.sideInBlock(design.side[segment])];
            }
        }
        return sum;
    }

    private void closedRow(int row, double effect, double @Nullable [] block) {
        int first = visits.firstSegment[row];
        int last = visits.firstSegment[row + 1];
        if (minutes.length < last - first) {
            minutes = new double[2 * (last - first)];
        }
        double total = 0;
        for (int s = first; s < last; s++) {
            double own = Math.exp(known(s, row, block));
            minutes[s - first] = own;
            total += own;
        }
        double location = Math.log(total) + effect + hurried(row) + (block == null ? 0 : block[0]);
        likelihood(row, location);
        double weight = fit.weights[row];
        sumUp(row, weight);
        slope = weight * noise.slope;
        precision = weight * noise.precision;
        information = weight * noise.information;
        sums.logLikelihood += weight * Math.log(Math.max(1e-300, noise.likelihood));
        for (int s = first; s < last; s++) {
            segmentDesign(s, row, minutes[s - first] / total);
        }
        touchHurry(row, 1);
        local[0] = 1;
        addRight(row, slope);
    }

    /** Adds the design so many times to the gradient. */
    void addRight(int row, double times) {
        for (int i = 0; i < touchedCount; i++) {
            sums.arrow.right[touched[i]] += times * accumulated[touched[i]];
        }
        int group = visits.group[row];
        if (group != Names.NONE) {
            double[] right = sums.arrow.ownRight[group];
            for (int k = 0; k < local.length; k++) {
                right[k] += times * local[k];
            }
        }
    }

    void segmentDesign(int s, int row, double share) {
        double[] value = design.value;
        for (int c = design.first[s]; c < design.first[s + 1]; c++) {
            touch(design.column[c], value == null ? share : share * value[c]);
        }
        int kind = visits.kind[s];
        if (kind == Names.NONE) {
            if (layout.lateColumn != Layout.NONE && visits.late[row] > 0) {
                touch(layout.lateColumn, share * visits.late[row]);
            }
        } else {
            local[layout.kindInBlock(kind)] += share;
            if (design.side[s] != Names.NONE) {
                local[layout.sideInBlock(design.side[s])] += share;
            }
        }
    }

    double hurried(int row) {
        double late = visits.late[row];
        if (late == 0 || layout.lateColumn == Layout.NONE) {
            return 0;
        }
        double sum = 0;
        for (int bend = 0; bend < layout.hurry.length; bend++) {
            sum += fit.beta[layout.hurry[bend]] * Layout.hurry(bend, late);
        }
        return sum;
    }

    void touchHurry(int row, double times) {
        double late = visits.late[row];
        for (int bend = 0; bend < layout.hurry.length && late > 0; bend++) {
            double minutes = Layout.hurry(bend, late);
            if (minutes > 0) {
                touch(layout.hurry[bend], times * minutes);
            }
        }
    }

    /** Sets {@link #noise} to what the row's minutes say of this location. */
    void likelihood(int row, double location) {
        double residual = visits.log[row] - location;
        double sigma = fit.sizes.noise[fit.classOf[row]];
        Ending ending = visits.ending[row];
        if (ending == Ending.COMPLETED) {
            noise.completed(residual, sigma, fit.informative == 0 ? 0 : fit.hazardTime(row));
        } else {
            noise.cutShort(residual, sigma, ending == Ending.STOPPED_FOR_COMFORT);
        }
    }

    private void sumUp(int row, double weight) {
        double stubborn = weight * noise.stubborn;
        sumUp(
                row,
                weight,
                stubborn,
                (weight - stubborn) * noise.ordinarySquare,
                stubborn * noise.stubbornFirst,
                stubborn * noise.stubbornSquare);
    }

    /**
     * Adds to the sums of the noise.
     *
     * @param stubborn weight of the stubborn component
     * @param ordinary expected square of the ordinary one
     * @param first expected residual of the stubborn one
     * @param second its expected square
     */
    void sumUp(int row, double weight, double stubborn, double ordinary, double first, double second) {
        int in = fit.classOf[row];
        double sigma = fit.sizes.noise[in];
        double shift = fit.sizes.stubbornShift;
        double spread = fit.sizes.stubbornSpread;
        double squares = ordinary + (second - 2 * shift * first + shift * shift * stubborn) / (spread * spread);
        sums.classWeight[in] += weight;
        sums.classSquares[in] += squares;
        square = squares / (weight * sigma * sigma);
        sums.weight += weight;
        odd = stubborn / (sigma * sigma);
        oddFirst = first / (sigma * sigma);
        sums.stubbornWeight += stubborn;
        sums.stubbornPrecision += odd;
        sums.stubbornFirst += oddFirst;
        sums.stubbornSquare += second / (sigma * sigma);
    }

    /** Adds the evaluated row's design to a square (lower triangle) and to a right-hand side. */
    void addDesign(double times, double[] into, double excess, double[] right) {
        int width = layout.width;
        for (int i = 0; i < touchedCount; i++) {
            int a = touched[i];
            right[a] += excess * accumulated[a];
            for (int j = 0; j <= i; j++) {
                int b = touched[j];
                into[a >= b ? a * width + b : b * width + a] += times * accumulated[a] * accumulated[b];
            }
        }
    }
}
