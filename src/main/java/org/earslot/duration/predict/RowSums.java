package org.earslot.duration.predict;

/**
 * Sums of multiples of rows, the one long loop of dense squares: four rows at a time along their length, which the machine
 * does several numbers at once. Each number takes its terms in the order of the rows, however many are done together.
 */
public final class RowSums {

    private RowSums() {}

    /**
     * Takes multiples of rows off a row: to[j] -= times[k] rows[k][j] for k from {@code first} to before {@code last}.
     *
     * @param to one of its own, from {@code from} to before {@code until}
     */
    public static void subtract(
            double[] to, int from, int until, double[] times, double[][] rows, int first, int last) {
        int k = first;
        for (; k + 3 < last; k += 4) {
            subtract(
                    to,
                    from,
                    until,
                    times[k],
                    rows[k],
                    times[k + 1],
                    rows[k + 1],
                    times[k + 2],
                    rows[k + 2],
                    times[k + 3],
                    rows[k + 3]);
        }
        for (; k < last; k++) {
            subtract(to, from, until, times[k], rows[k]);
        }
    }

    private static void subtract(double[] to, int from, int until, double x, double[] a) {
        for (int j = from; j < until; j++) {
            to[j] -= x * a[j];
        }
    }

    private static void subtract(
            double[] to,
            int from,
            int until,
            double x,
            double[] a,
            double y,
            double[] b,
            double z,
            double[] c,
            double w,
            double[] d) {
        for (int j = from; j < until; j++) {
            to[j] = to[j] - x * a[j] - y * b[j] - z * c[j] - w * d[j];
        }
    }
}
