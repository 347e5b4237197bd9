package org.earslot.duration.predict;

/**
 * Cholesky factors of small dense squares, row by row in one array: L with L L' = A, lower triangle. In place and for
 * squares that may lack rank, which libraries refuse.
 */
public final class Cholesky {

    /** So many rows are taken off the others at a time. */
    private static final int PIVOTS = 8;

    private Cholesky() {}

    /** log det A. */
    public static double logDet(double[] factor, int n) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
            sum += 2 * Math.log(factor[i * n + i]);
        }
        return sum;
    }

    /**
     * The factor of a square, in place, lower triangle. A pivot that is not positive is put so high that its column stays
     * where it is.
     *
     * @return whether every pivot was positive
     */
    public static boolean factor(double[] a, int n) {
        // By rows of L', so that the long sums run along rows; what a pivot takes off is taken off in the order of
        // pivots.
        double[][] rows = new double[n][n];
        double[] scale = new double[n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                rows[j][i] = a[i * n + j];
            }
            scale[i] = Math.abs(a[i * n + i]);
        }
        boolean sound = true;
        double[] times = new double[n];
        for (int done = 0; done < n; done += PIVOTS) {
            int upTo = Math.min(n, done + PIVOTS);
            for (int i = done; i < n; i++) {
                int before = Math.min(i, upTo);
                for (int k = done; k < before; k++) {
                    times[k] = rows[k][i];
                }
                RowSums.subtract(rows[i], i, n, times, rows, done, before);
                if (i < upTo) {
                    sound &= pivot(rows[i], i, scale[i]);
                }
            }
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                a[i * n + j] = rows[j][i];
            }
        }
        return sound;
    }

    /** Divides a row of L' by the root of its pivot. */
    private static boolean pivot(double[] row, int i, double scale) {
        boolean sound = row[i] > 1e-14 * scale && row[i] > 1e-280;
        row[i] = Math.sqrt(sound ? row[i] : 1e100);
        for (int j = i + 1; j < row.length; j++) {
            row[j] /= row[i];
        }
        return sound;
    }

    /**
     * Solves L x = b, in place.
     *
     * @param at where b begins
     */
    public static void forward(double[] l, int n, double[] b, int at) {
        for (int i = 0; i < n; i++) {
            double sum = b[at + i];
            for (int k = 0; k < i; k++) {
                sum -= l[i * n + k] * b[at + k];
            }
            b[at + i] = sum / l[i * n + i];
        }
    }

    /**
     * Solves L' x = b, in place.
     *
     * @param at where b begins
     */
    public static void backward(double[] l, int n, double[] b, int at) {
        for (int i = n - 1; i >= 0; i--) {
            double sum = b[at + i] / l[i * n + i];
            b[at + i] = sum;
            for (int k = 0; k < i; k++) {
                b[at + k] -= l[i * n + k] * sum;
            }
        }
    }

    /** The full inverse from a Cholesky factor. */
    public static double[] inverse(double[] l, int n) {
        // Rows of L^-1, then their products.
        double[][] half = new double[n][n];
        double[] times = new double[n];
        for (int i = 0; i < n; i++) {
            System.arraycopy(l, i * n, times, 0, i);
            RowSums.subtract(half[i], 0, i, times, half, 0, i);
            for (int j = 0; j < i; j++) {
                half[i][j] /= l[i * n + i];
            }
            half[i][i] = 1 / l[i * n + i];
        }
        double[][] product = new double[n][n];
        for (int done = 0; done < n; done += PIVOTS) {
            int upTo = Math.min(n, done + PIVOTS);
            for (int i = 0; i < upTo; i++) {
                int from = Math.max(i, done);
                for (int k = from; k < upTo; k++) {
                    times[k] = -half[k][i];
                }
                RowSums.subtract(product[i], 0, i + 1, times, half, from, upTo);
            }
        }
        double[] inverse = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                inverse[i * n + j] = product[i][j];
                inverse[j * n + i] = product[i][j];
            }
        }
        return inverse;
    }
}
