package org.earslot.duration.fit;

import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Gradient;
import org.earslot.duration.predict.Location;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Names;
import org.jspecify.annotations.Nullable;

/**
 * One past visit at the fit's present coefficients: what it says on its {@link Location}, and the gradient of that. Adds
 * itself to the sums of a pass as it goes. Reusable, for one thread.
 */
final class RowStep {

    private final Fit fit;
    private final PastVisits visits;
    private final Design design;
    private final SweepAccumulator sums;
    private final MarginalisedRow marginalisedRow;

    final Noise noise = new Noise();

    final Location location;

    /** Of the location. */
    final Gradient gradient;

    /** The derivative of the log-likelihood by the location. */
    double slope;

    /** The precision that the location is taken at, and what is truly known of it ({@link Noise#information}). */
    double precision;

    double information;

    /** The expected square of the residual, in units of its noise. */
    double square;

    /** Share of the outlying component over its variance, and that times the residual. */
    double odd;

    double oddFirst;

    private double[] minutes = new double[8];

    RowStep(Fit fit, SweepAccumulator sums) {
        this.fit = fit;
        this.sums = sums;
        visits = fit.visits;
        design = fit.design;
        location = new Location(fit.layout, fit.beta);
        gradient = new Gradient(fit.layout);
        noise.set(fit.sizes, fit.informative.gamma());
        marginalisedRow = new MarginalisedRow(fit, this, sums);
    }

    /** @param effect of the person, on the log scale */
    void evaluate(int row, double effect) {
        int group = visits.group[row];
        double @Nullable [] block = group == Names.NONE ? null : fit.block[group];
        gradient.clear();
        if (fit.open[row]) {
            marginalisedRow.evaluate(row, effect, block);
        } else {
            observedRow(row, effect, block);
        }
    }

    /** The log minutes of all that is known of a segment. */
    double known(int segment, int row, double @Nullable [] block) {
        return location.columns(design.column, design.value, design.first[segment], design.first[segment + 1])
                + location.inside(visits.kind[segment], design.side[segment], visits.late[row], block);
    }

    /**
     * What is added to the logarithm of the segments' minutes together.
     *
     * @param effect of the person
     */
    double beyond(int row, double effect, double @Nullable [] block) {
        return location.beyond(visits.late[row], effect, block);
    }

    private void observedRow(int row, double effect, double @Nullable [] block) {
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
        likelihood(row, Math.log(total) + beyond(row, effect, block));
        double weight = fit.stretch.weights()[row];
        sumUp(row, weight);
        slope = weight * noise.slope;
        precision = weight * noise.precision;
        information = weight * noise.information;
        sums.logLikelihood += weight * Math.log(Math.max(1e-300, noise.likelihood));
        for (int s = first; s < last; s++) {
            addSegment(s, row, minutes[s - first] / total);
        }
        gradient.beyond(visits.late[row], 1);
        addRight(row, slope);
    }

    /** Adds the gradient so many times to the right-hand side. */
    void addRight(int row, double times) {
        for (int i = 0; i < gradient.count; i++) {
            sums.arrow.right[gradient.column[i]] += times * gradient.value[gradient.column[i]];
        }
        int group = visits.group[row];
        if (group != Names.NONE) {
            double[] right = sums.arrow.ownRight[group];
            for (int k = 0; k < gradient.local.length; k++) {
                right[k] += times * gradient.local[k];
            }
        }
    }

    /**
     * Adds what is known of a segment to the gradient.
     *
     * @param share of the minutes that the segment takes
     */
    void addSegment(int s, int row, double share) {
        double[] value = design.value;
        for (int c = design.first[s]; c < design.first[s + 1]; c++) {
            gradient.add(design.column[c], value == null ? share : share * value[c]);
        }
        gradient.inside(visits.kind[s], design.side[s], visits.late[row], share);
    }

    /** Sets {@link #noise} to what the row's minutes say of this location. */
    void likelihood(int row, double location) {
        double residual = visits.log[row] - fit.stretch.level()[row] - location;
        double sigma = fit.sizes.noise[fit.classOf[row]];
        Ending ending = visits.ending[row];
        if (ending == Ending.COMPLETED) {
            noise.completed(residual, sigma, fit.informative.gamma() == 0 ? 0 : fit.hazardTime(row));
        } else {
            noise.stoppedEarly(residual, sigma, ending == Ending.STOPPED_FOR_COMFORT);
        }
    }

    private void sumUp(int row, double weight) {
        double outlier = weight * noise.outlier;
        sumUp(
                row,
                weight,
                outlier,
                (weight - outlier) * noise.ordinarySquare,
                outlier * noise.outlierFirst,
                outlier * noise.outlierSquare);
    }

    /**
     * Adds to the sums of the noise.
     *
     * @param outlier weight of the outlying component
     * @param ordinary expected square of the ordinary one
     * @param first expected residual of the outlying one
     * @param second its expected square
     */
    void sumUp(int row, double weight, double outlier, double ordinary, double first, double second) {
        int in = fit.classOf[row];
        double sigma = fit.sizes.noise[in];
        double shift = fit.sizes.outlierShift;
        double spread = fit.sizes.outlierSpread;
        double squares = ordinary + (second - 2 * shift * first + shift * shift * outlier) / (spread * spread);
        sums.classWeight[in] += weight;
        sums.classSquares[in] += squares;
        square = squares / (weight * sigma * sigma);
        sums.weight += weight;
        odd = outlier / (sigma * sigma);
        oddFirst = first / (sigma * sigma);
        sums.outlierWeight += outlier;
        sums.outlierPrecision += odd;
        sums.outlierFirst += oddFirst;
        sums.outlierSquare += second / (sigma * sigma);
    }

    /** Adds the evaluated row's gradient to a square (lower triangle) and to a right-hand side. */
    void addDesign(double times, double[] into, double excess, double[] right) {
        int width = gradient.value.length;
        for (int i = 0; i < gradient.count; i++) {
            int a = gradient.column[i];
            right[a] += excess * gradient.value[a];
            for (int j = 0; j <= i; j++) {
                int b = gradient.column[j];
                into[a >= b ? a * width + b : b * width + a] += times * gradient.value[a] * gradient.value[b];
            }
        }
    }
}
