package org.earslot.duration.predict;

/**
 * Cholesky factors of small dense squares, row by row in one array: L with L L' = A, lower triangle. In place and for
 * squares that may lack rank, which libraries refuse.
 */
public final class Cholesky {

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
        boolean sound = true;
        double[] scale = new double[n];
        for (int i = 0; i < n; i++) {
            scale[i] = Math.abs(a[i * n + i]);
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = a[i * n + j];
                int ri = i * n;
                int rj = j * n;
                for (int k = 0; k < j; k++) {
                    sum -= a[ri + k] * a[rj + k];
                }
                if (i == j) {
                    if (!(sum > 1e-14 * scale[i]) || !(sum > 1e-280)) {
                        sound = false;
                        sum = 1e100;
                    }
                    a[ri + i] = Math.sqrt(sum);
                } else {
                    a[ri + j] = sum / a[rj + j];
                }
            }
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
        double[] half = new double[n * n];
        for (int j = 0; j < n; j++) {
            half[j * n + j] = 1 / l[j * n + j];
            for (int i = j + 1; i < n; i++) {
                double sum = 0;
                for (int k = j; k < i; k++) {
                    sum -= l[i * n + k] * half[j * n + k];
                }
                half[j * n + i] = sum / l[i * n + i];
            }
        }
        double[] inverse = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = 0;
                for (int k = i; k < n; k++) {
                    sum += half[i * n + k] * half[j * n + k];
                }
                inverse[i * n + j] = sum;
                inverse[j * n + i] = sum;
            }
        }
        return inverse;
    }
}
