package org.earslot.duration.fit;

import org.earslot.duration.predict.Cholesky;
import org.earslot.duration.table.Names;

/**
 * How the noise differs with what is found: its standard deviation is that of the class times exp(x d), where x is a
 * visit's design (each column's share of the time) and d small, assumed to lie about 0.
 *
 * <p>One scoring step of the gamma regression of squared residuals, from d = 0: hard wax is not only slower, it is less
 * certain. Squares are those of the ordinary visits; the outlying ones have a width of their own.
 */
final class Widths {

    /** How much one column may change the logarithm of the standard deviation. */
    private static final double SPREAD = 0.15;

    /** Rows that are enough to learn from. */
    private static final int ENOUGH = 5_000;

    private Widths() {}

    /** The d of each column. */
    static double[] of(Fit fit) {
        int width = fit.layout.width;
        int every = Math.max(1, (fit.stretch.rows().length + ENOUGH - 1) / ENOUGH);
        double[] square = new double[width * width];
        double[] right = new double[width];
        RowStep step = new RowStep(fit, new SweepAccumulator(fit));
        for (int i = 0; i < fit.stretch.rows().length; i += every) {
            int row = fit.stretch.rows()[i];
            int who = fit.visits.person[row];
            step.evaluate(row, who != Names.NONE && fit.persons ? fit.personMean[who] : 0);
            double weight = fit.stretch.weights()[row];
            double excess = step.square - 1;
            step.addDesign(2 * weight, square, weight * excess, right);
        }
        for (int column = 0; column < width; column++) {
            square[column * width + column] += 1 / (SPREAD * SPREAD);
        }
        Cholesky.factor(square, width);
        Cholesky.forward(square, width, right, 0);
        Cholesky.backward(square, width, right, 0);
        return right;
    }
}
