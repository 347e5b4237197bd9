package org.earslot.duration.judge;

import java.util.Arrays;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.QRDecomposition;
import org.hipparchus.linear.RealMatrix;

/**
 * Weighted linear least squares on rows handed in one after another: minimises the sum of (y - x b)^2.
 *
 * <p>The triangular factor R is built by Householder reflections on scaled columns, block after block, never through the
 * normal equations. The solution is then refined: the residuals and their projection X'r are summed in twice the working
 * precision (error-free sums and products) and R'R d = X'r is solved for the correction, until it no longer shrinks. This
 * reaches all digits that NIST certifies on Longley and Wampler5: what {@link LeastSquares} is held against.
 */
final class RefinedLeastSquares {

    private static final int BLOCK = 512;
    private static final int REFINEMENTS = 8;

    private final int columns;
    private double[][] rows = new double[64][];
    private int count;

    RefinedLeastSquares(int columns) {
        this.columns = columns;
    }

    /**
     * Adds a row.
     *
     * @param row as long as there are columns; kept, not copied
     */
    void add(double[] row, double y) {
        if (count == rows.length) {
            rows = Arrays.copyOf(rows, 2 * count);
        }
        double[] joined = Arrays.copyOf(row, columns + 1);
        joined[columns] = y;
        rows[count++] = joined;
    }

    /** The solution. A column that the rows say nothing about gets 0 and no variance. */
    Solution solve() {
        double[] scale = columnScales();
        double[][] triangle = triangle(scale);
        double[] high = new double[columns];
        double[] low = new double[columns];
        double previous = Double.POSITIVE_INFINITY;
        for (int pass = 0; pass < REFINEMENTS; pass++) {
            double[] gradient = projectedResiduals(high, low);
            for (int j = 0; j < columns; j++) {
                gradient[j] /= scale[j];
            }
            double[] step = backward(triangle, forward(triangle, gradient));
            double size = 0;
            for (int j = 0; j < columns; j++) {
                double correction = step[j] / scale[j];
                size += step[j] * step[j];
                addTo(high, low, j, correction);
            }
            if (pass > 0 && !(size < previous * 0.25) || size == 0) {
                break;
            }
            previous = size;
        }
        return new Solution(high, residualSquares(high, low));
    }

    /**
     * @param coefficients b
     * @param residualSquares the sum of squared residuals
     */
    record Solution(double[] coefficients, double residualSquares) {}

    private double[] columnScales() {
        double[] scale = new double[columns];
        for (int i = 0; i < count; i++) {
            for (int j = 0; j < columns; j++) {
                scale[j] += rows[i][j] * rows[i][j];
            }
        }
        for (int j = 0; j < columns; j++) {
            // A power of two, so that scaling costs no digit.
            scale[j] = scale[j] > 0 ? Math.scalb(1.0, Math.getExponent(Math.sqrt(scale[j]))) : 1;
        }
        return scale;
    }

    private double[][] triangle(double[] scale) {
        double[][] triangle = new double[columns][columns];
        int filled = 0;
        for (int from = 0; from < count; from += BLOCK) {
            int height = Math.min(BLOCK, count - from);
            RealMatrix stack = MatrixUtils.createRealMatrix(Math.max(columns, filled + height), columns);
            for (int i = 0; i < filled; i++) {
                stack.setRow(i, triangle[i]);
            }
            for (int i = 0; i < height; i++) {
                for (int j = 0; j < columns; j++) {
                    stack.setEntry(filled + i, j, rows[from + i][j] / scale[j]);
                }
            }
            RealMatrix factor = new QRDecomposition(stack).getR();
            filled = columns;
            for (int i = 0; i < columns; i++) {
                triangle[i] = factor.getRow(i);
            }
        }
        return triangle;
    }

    /** X'(y - X b) with every sum in twice the working precision; b = high + low. */
    private double[] projectedResiduals(double[] high, double[] low) {
        double[] sum = new double[columns];
        double[] rest = new double[columns];
        double[] residual = new double[2];
        for (int i = 0; i < count; i++) {
            double[] row = rows[i];
            residual(row, high, low, residual);
            for (int j = 0; j < columns; j++) {
                double product = row[j] * residual[0];
                double error = Math.fma(row[j], residual[0], -product) + row[j] * residual[1];
                addTo(sum, rest, j, product);
                rest[j] += error;
            }
        }
        for (int j = 0; j < columns; j++) {
            sum[j] += rest[j];
        }
        return sum;
    }

    private void residual(double[] row, double[] high, double[] low, double[] into) {
        into[0] = row[columns];
        into[1] = 0;
        for (int j = 0; j < columns; j++) {
            double product = -row[j] * high[j];
            double error = Math.fma(-row[j], high[j], -product) - row[j] * low[j];
            double sum = into[0] + product;
            double part = sum - into[0];
            into[1] += (into[0] - (sum - part)) + (product - part) + error;
            into[0] = sum;
        }
        double sum = into[0] + into[1];
        into[1] = into[1] - (sum - into[0]);
        into[0] = sum;
    }

    private double residualSquares(double[] high, double[] low) {
        double[] residual = new double[2];
        double[] sum = new double[1];
        double[] rest = new double[1];
        for (int i = 0; i < count; i++) {
            residual(rows[i], high, low, residual);
            addTo(sum, rest, 0, residual[0] * residual[0]);
        }
        return sum[0] + rest[0];
    }

    /** An error-free sum: what rounding loses goes to {@code rest}. */
    private static void addTo(double[] sum, double[] rest, int j, double value) {
        double total = sum[j] + value;
        double part = total - sum[j];
        rest[j] += (sum[j] - (total - part)) + (value - part);
        sum[j] = total;
    }

    /** Solves R' v = g. */
    private static double[] forward(double[][] triangle, double[] g) {
        int n = g.length;
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            double sum = g[i];
            for (int k = 0; k < i; k++) {
                sum -= triangle[k][i] * v[k];
            }
            v[i] = Math.abs(triangle[i][i]) > 1e-13 ? sum / triangle[i][i] : 0;
        }
        return v;
    }

    /** Solves R d = v. */
    private static double[] backward(double[][] triangle, double[] v) {
        int n = v.length;
        double[] d = new double[n];
        for (int i = n - 1; i >= 0; i--) {
            double sum = v[i];
            for (int k = i + 1; k < n; k++) {
                sum -= triangle[i][k] * d[k];
            }
            d[i] = Math.abs(triangle[i][i]) > 1e-13 ? sum / triangle[i][i] : 0;
        }
        return d;
    }
}
