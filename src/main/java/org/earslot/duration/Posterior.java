package org.earslot.duration;

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
 * @param widths by column: what it adds to the logarithm of the noise, see {@link Widths}
 */
record Posterior(
        double[] beta,
        double[] covariance,
        double[][] block,
        double[][] cross,
        double[][] own,
        VarianceComponents sizes,
        boolean personsTold,
        double[] widths) {

    /** Of a fit that has made a pass. */
    static Posterior of(Fit fit) {
        ArrowheadSystem.Solved solved = fit.solved();
        double[] covariance = solved.covariance();
        double[][] cross = new double[fit.groups][];
        double[][] own = new double[fit.groups][];
        double[][] block = new double[fit.groups][];
        for (int g = 0; g < fit.groups; g++) {
            double[][] pair = solved.ofGroup(covariance, g);
            cross[g] = pair[0];
            own[g] = pair[1];
            block[g] = fit.block[g].clone();
        }
        return new Posterior(
                fit.beta.clone(), covariance, block, cross, own, fit.sizes.copy(), fit.persons, Widths.of(fit));
    }

    /** As assumed, before any visit: the inverse of the assumed precision. */
    static Posterior assumed(Fit fit) {
        int width = fit.layout.width;
        double[] precision = new double[width * width];
        for (int i = 0; i < width; i++) {
            System.arraycopy(fit.design.priorPrecision[i], 0, precision, i * width, width);
        }
        ArrowheadSystem.cholesky(precision, width);
        double[] covariance = ArrowheadSystem.inverse(precision, width);
        double[][] none = new double[0][];
        return new Posterior(
                fit.beta.clone(), covariance, none, none, none, fit.sizes.copy(), false, new double[width]);
    }

    /** The variance of a location with this gradient. @param group the visit's, {@link Names#NONE} for one never seen */
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
