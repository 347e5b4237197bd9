package org.earslot.duration.predict;

import org.earslot.duration.table.Names;

/**
 * What a fit has learnt, frozen: coefficients with their covariance, the groups' blocks with theirs, the sizes.
 *
 * @param beta coefficients by column
 * @param covariance of them, dense
 * @param block by group
 * @param cross by group: covariance of the coefficients with the block, width x blockWidth
 * @param own by group: covariance of the block
 * @param sizes the variance sizes
 * @param personsTold whether persons were told apart
 * @param widths by column: what it adds to the logarithm of the noise, see {@link org.earslot.duration.fit.Widths}
 */
public record Posterior(
        double[] beta,
        double[] covariance,
        double[][] block,
        double[][] cross,
        double[][] own,
        VarianceComponents sizes,
        boolean personsTold,
        double[] widths) {

    /**
     * The variance of a location with this gradient.
     *
     * @param group the visit's, {@link Names#NONE} for one never seen
     */
    double variance(Gradient gradient, int group) {
        int width = beta.length;
        int count = gradient.count;
        int[] columns = gradient.column;
        double[] x = gradient.value;
        double sum = 0;
        for (int i = 0; i < count; i++) {
            int a = columns[i];
            double row = 0;
            for (int j = 0; j < count; j++) {
                row += covariance[a * width + columns[j]] * x[columns[j]];
            }
            sum += row * x[a];
        }
        if (group != Names.NONE) {
            double[] local = gradient.local;
            int n = local.length;
            for (int i = 0; i < count; i++) {
                int a = columns[i];
                for (int k = 0; k < n; k++) {
                    sum += 2 * x[a] * cross[group][a * n + k] * local[k];
                }
            }
            for (int k = 0; k < n; k++) {
                for (int l = 0; l < n; l++) {
                    sum += local[k] * own[group][k * n + l] * local[l];
                }
            }
        }
        return Math.max(0, sum);
    }
}
