package org.earslot.flow;

/** Sums of products of two rows of numbers. */
final class Convolution {

    private static final int EIGHT = 8;

    private Convolution() {}

    /**
     * {@code c[k] = sum of few[i] many[k - i]}. Eight of the shorter row at a time: the sum is read and written once for
     * eight products.
     */
    static double[] of(double[] few, double[] many) {
        int m = many.length;
        double[] sum = new double[few.length + m - 1];
        int i = 0;
        for (; i + EIGHT <= few.length && m >= EIGHT; i += EIGHT) {
            addEight(sum, i, few, many, m);
        }
        for (; i < few.length; i++) {
            add(sum, i, few[i], many, m);
        }
        return sum;
    }

    private static void add(double[] sum, int at, double w, double[] b, int m) {
        for (int j = 0; j < m; j++) {
            sum[at + j] += w * b[j];
        }
    }

    private static void addEight(double[] sum, int at, double[] w, double[] b, int m) {
        double w0 = w[at];
        double w1 = w[at + 1];
        double w2 = w[at + 2];
        double w3 = w[at + 3];
        double w4 = w[at + 4];
        double w5 = w[at + 5];
        double w6 = w[at + 6];
        double w7 = w[at + 7];
        for (int j = EIGHT - 1; j < m; j++) {
            sum[at + j] += w0 * b[j]
                    + w1 * b[j - 1]
                    + w2 * b[j - 2]
                    + w3 * b[j - 3]
                    + w4 * b[j - 4]
                    + w5 * b[j - 5]
                    + w6 * b[j - 6]
                    + w7 * b[j - 7];
        }
        for (int k = 0; k < EIGHT - 1; k++) {
            double head = 0;
            double tail = 0;
            for (int i = 0; i <= k; i++) {
                head += w[at + i] * b[k - i];
                tail += w[at + EIGHT - 1 - i] * b[m - 1 - k + i];
            }
            sum[at + k] += head;
            sum[at + m + EIGHT - 2 - k] += tail;
        }
    }
}
