package org.earslot.flow.chance;

import java.util.Arrays;

/**
 * Sums of products of two rows of numbers.
 *
 * <p>Like Horner's scheme, four numbers of the shorter row at a time from its end: what is summed so far moves on by four
 * and the products with four copies of the longer row, each a place further on, are added. So one index runs through
 * all rows, and the machine can do several places at once.
 */
final class Convolution {

    private static final int FOUR = 4;

    private Convolution() {}

    /**
     * {@code c[k] = sum of few[i] many[k - i]}; up to three zeros may follow.
     *
     * @param few not empty, nor is {@code many}
     */
    static double[] of(double[] few, double[] many) {
        int blocks = (few.length + FOUR - 1) / FOUR;
        double[] w = few.length == FOUR * blocks ? few : Arrays.copyOf(few, FOUR * blocks);
        int length = many.length + FOUR - 1;
        double[] b0 = Arrays.copyOf(many, length);
        double[] b1 = movedOn(many, 1);
        double[] b2 = movedOn(many, 2);
        double[] b3 = movedOn(many, 3);
        double[] sum = new double[length + FOUR * (blocks - 1)];
        for (int i = w.length - FOUR; i >= 0; i -= FOUR) {
            int summed = sum.length - FOUR - i;
            if (i + FOUR < w.length) {
                System.arraycopy(sum, 0, sum, FOUR, summed);
                Arrays.fill(sum, 0, FOUR, 0);
            }
            addFour(sum, w[i], w[i + 1], w[i + 2], w[i + 3], b0, b1, b2, b3);
        }
        return sum;
    }

    private static double[] movedOn(double[] row, int by) {
        double[] moved = new double[row.length + FOUR - 1];
        System.arraycopy(row, 0, moved, by, row.length);
        return moved;
    }

    private static void addFour(
            double[] sum,
            double w0,
            double w1,
            double w2,
            double w3,
            double[] b0,
            double[] b1,
            double[] b2,
            double[] b3) {
        for (int j = 0; j < b0.length; j++) {
            sum[j] += w0 * b0[j] + w1 * b1[j] + w2 * b2[j] + w3 * b3[j];
        }
    }
}
