package org.earslot.duration.judge;

import java.util.Arrays;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.QRDecomposition;
import org.hipparchus.linear.RealMatrix;

/**
 * Linear least squares on rows handed in one after another: minimises the sum of (y - x b)^2.
 *
 * <p>Block after block of rows (X, y) is stacked under the triangular factor R of those before and reduced by Householder
 * reflections, never through the normal equations; so only R is stored. Its last column holds Q'y, its corner the root of
 * the sum of squared residuals.
 */
final class LeastSquares {

    private static final int BLOCK = 512;

    /** A column of which less than this share is its own says nothing that the columns before it do not say. */
    private static final double OWN = 1e-13;

    private final int columns;
    private double[][] triangle;
    private final double[][] block = new double[BLOCK][];
    private int count;

    LeastSquares(int columns) {
        this.columns = columns;
        triangle = new double[columns + 1][columns + 1];
    }

    /**
     * Adds a row.
     *
     * @param row as long as there are columns
     */
    void add(double[] row, double y) {
        double[] joined = Arrays.copyOf(row, columns + 1);
        joined[columns] = y;
        block[count++] = joined;
        if (count == BLOCK) {
            reduce();
        }
    }

    private void reduce() {
        int width = columns + 1;
        RealMatrix stack = MatrixUtils.createRealMatrix(width + count, width);
        stack.setSubMatrix(triangle, 0, 0);
        for (int i = 0; i < count; i++) {
            stack.setRow(width + i, block[i]);
        }
        triangle = new QRDecomposition(stack)
                .getR()
                .getSubMatrix(0, columns, 0, columns)
                .getData();
        count = 0;
    }

    /** The solution. A column that the rows say nothing about gets 0 and no variance. */
    Solution solve() {
        reduce();
        boolean[] known = new boolean[columns];
        for (int j = 0; j < columns; j++) {
            double square = 0;
            for (int i = 0; i <= j; i++) {
                square += triangle[i][j] * triangle[i][j];
            }
            known[j] = Math.abs(triangle[j][j]) > OWN * Math.sqrt(square);
        }
        double[] coefficients = new double[columns];
        for (int i = columns - 1; i >= 0; i--) {
            double sum = triangle[i][columns];
            for (int k = i + 1; k < columns; k++) {
                sum -= triangle[i][k] * coefficients[k];
            }
            coefficients[i] = known[i] ? sum / triangle[i][i] : 0;
        }
        double residual = triangle[columns][columns];
        return new Solution(coefficients, residual * residual, triangle, known);
    }

    /**
     * @param coefficients b
     * @param residualSquares the sum of squared residuals
     * @param triangle R
     * @param known whether the rows say anything of each column
     */
    record Solution(double[] coefficients, double residualSquares, double[][] triangle, boolean[] known) {

        /** x (X'X)^-1 x': the variance of x b in units of the residual variance. */
        double leverage(double[] x) {
            double[] solved = new double[x.length];
            double sum = 0;
            for (int i = 0; i < x.length; i++) {
                double left = x[i];
                for (int k = 0; k < i; k++) {
                    left -= triangle[k][i] * solved[k];
                }
                solved[i] = known[i] ? left / triangle[i][i] : 0;
                sum += solved[i] * solved[i];
            }
            return sum;
        }
    }
}
