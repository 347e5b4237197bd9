package org.earslot.duration.knowledge;

import java.util.Arrays;
import java.util.List;
import org.earslot.duration.predict.Cholesky;
import org.earslot.duration.predict.OncePlusPartsModel;
import org.earslot.duration.predict.Posterior;
import org.earslot.duration.predict.VarianceComponents;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.minutes.Normal;

/**
 * Combines a fitted model with what an expert says of its quantiles.
 *
 * <p>theta are the coefficients and the logarithms of the noise; the fit gives N(theta_0, P), from priors and visits, see
 * {@link LooseLevel}. What
 * is said of visit v at probability p is y = log Q_p(theta; v) + error, see {@link Statements}; Q_p is the quantile over
 * the visits of that kind in the clinic's case mix ({@link ModelQuantiles}). So
 *
 * <pre>
 *   log posterior(theta, s) = -1/2 (theta - theta_0)' P^-1 (theta - theta_0)
 *                             -1/2 (y - h(theta))' R(s)^-1 (y - h(theta)) - 1/2 log det R(s) + log prior(s)
 * </pre>
 *
 * is climbed by Gauss and Newton's steps in the form that inverts a square of the size of the statements only, the iterated
 * Kalman update (B. Bell and F. Cathey, IEEE Transactions on Automatic Control 38, 1993, from memory), with J the derivative
 * of h by theta:
 *
 * <pre>
 *   theta_k+1 = theta_0 + K (y - h(theta_k) - J (theta_0 - theta_k)),  K = P J' (J P J' + R(s))^-1,  P_new = P - K J P
 * </pre>
 *
 * <p>Before each step s takes the value of greatest evidence, theta integrated out. Practitioners' own effects move by their
 * covariance with the coefficients.
 */
final class KnowledgeUpdate {

    private static final int STEPS = 8;
    private static final double ENOUGH = 1e-4;

    /** Difference by which derivatives are taken, on the log scale: far more than the merging of locations moves. */
    private static final double DIFFERENCE = 0.02;

    private final OncePlusPartsModel model;
    private final List<ElicitedMinutes> said;
    private final Statements statements;
    private final ModelQuantiles quantiles;
    private final Posterior before;
    private final int width;
    private final int classes;
    private final int n;

    /** Covariance of the logarithms of the noise. */
    private final double[] noise;

    // Of the last step: derivatives by coefficients and by log noise, a statement in each row.
    private double[] byColumn = {};
    private double[] byNoise = {};

    /** Cholesky factor L of J P J' + R(s). */
    private double[] factor = {};

    /** L^-1 times what was said less what was expected. */
    private double[] misses = {};

    KnowledgeUpdate(OncePlusPartsModel model, List<ElicitedMinutes> said) {
        this.model = model;
        this.said = said;
        statements = new Statements(said);
        quantiles = new ModelQuantiles(model);
        before = LooseLevel.of(model);
        width = before.beta().length;
        classes = before.sizes().noise.length;
        n = statements.size();
        noise = noiseCovariance();
    }

    /** The model that knows both. */
    OncePlusPartsModel updated() {
        double[] fitted = quantiles.parameters(before);
        double[] at = fitted;
        double moved = Double.POSITIVE_INFINITY;
        for (int step = 0; step < STEPS && moved > ENOUGH; step++) {
            linearise(fitted, at);
            double[] next = fitted.clone();
            moved(next, 0, half(byColumn, before.covariance(), width), width);
            moved(next, width, half(byNoise, noise, classes), classes);
            moved = 0;
            for (int i = 0; i < next.length; i++) {
                moved = Math.max(moved, Math.abs(next[i] - at[i]));
            }
            at = next;
        }
        return combined(at);
    }

    /**
     * After how many visits, spread over the kinds as they were asked about, the visits say more on these kinds than the
     * expert does: for each kind the variance of one visit over that of what was said, at the scale assumed beforehand.
     *
     * @param informed the model that knows both
     */
    static double outweighedAfter(OncePlusPartsModel informed, List<ElicitedMinutes> said) {
        Statements statements = new Statements(said);
        ModelQuantiles quantiles = new ModelQuantiles(informed);
        double[] found = quantiles.parameters(informed.posterior());
        double visits = 0;
        for (int i = 0; i < statements.size(); i++) {
            if (statements.probability[i] == Statements.MEDIAN) {
                MinutesDistribution minutes =
                        quantiles.at(found, said.get(statements.visit[i]).visit());
                double sd = Math.log(minutes.quantile(Statements.HIGH) / minutes.quantile(Statements.MEDIAN))
                        / Normal.quantile(Statements.HIGH);
                visits += sd * sd / statements.covariance(i, i, 1);
            }
        }
        return visits;
    }

    /** Takes derivatives at these parameters, and from them what is expected of the statements, and the scale. */
    private void linearise(double[] fitted, double[] at) {
        byColumn = new double[n * width];
        byNoise = new double[n * classes];
        misses = new double[n];
        for (int v = 0; v < said.size(); v++) {
            linearise(v, fitted, at);
        }
        double[] expected = new double[n * n];
        addExpected(byColumn, before.covariance(), width, expected);
        addExpected(byNoise, noise, classes, expected);
        double scale = statements.scale(misses, expected);
        factor = statements.factored(expected, scale);
        Cholesky.forward(factor, n, misses, 0);
    }

    private void linearise(int v, double[] fitted, double[] at) {
        MinutesDistribution here = quantiles.at(at, said.get(v).visit());
        for (int i = 0; i < n; i++) {
            if (statements.visit[i] == v) {
                misses[i] = statements.log[i] - Math.log(here.quantile(statements.probability[i]));
            }
        }
        for (int parameter : quantiles.touched(said.get(v).visit())) {
            double[] beside = at.clone();
            beside[parameter] += DIFFERENCE;
            MinutesDistribution there = quantiles.at(beside, said.get(v).visit());
            for (int i = 0; i < n; i++) {
                if (statements.visit[i] == v) {
                    double p = statements.probability[i];
                    double slope = Math.log(there.quantile(p) / here.quantile(p)) / DIFFERENCE;
                    misses[i] -= slope * (fitted[parameter] - at[parameter]);
                    if (parameter < width) {
                        byColumn[i * width + parameter] = slope;
                    } else {
                        byNoise[i * classes + parameter - width] = slope;
                    }
                }
            }
        }
    }

    /** Adds J P J'. */
    private void addExpected(double[] jacobian, double[] covariance, int columns, double[] expected) {
        double[] seen = seen(jacobian, covariance, columns, columns);
        for (int i = 0; i < n; i++) {
            for (int k = 0; k < n; k++) {
                for (int j = 0; j < columns; j++) {
                    expected[i * n + k] += jacobian[i * columns + j] * seen[j * n + k];
                }
            }
        }
    }

    /**
     * (J P)', a column in each row.
     *
     * @param covariance rows x columns
     */
    private double[] seen(double[] jacobian, double[] covariance, int rows, int columns) {
        double[] seen = new double[columns * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < rows; j++) {
                double slope = jacobian[i * rows + j];
                for (int a = 0; slope != 0 && a < columns; a++) {
                    seen[a * n + i] += slope * covariance[j * columns + a];
                }
            }
        }
        return seen;
    }

    /** (L^-1 J P)', a column in each row. */
    private double[] half(double[] jacobian, double[] covariance, int columns) {
        double[] half = seen(jacobian, covariance, jacobian.length / n, columns);
        for (int a = 0; a < columns; a++) {
            Cholesky.forward(factor, n, half, a * n);
        }
        return half;
    }

    private void moved(double[] mean, int from, double[] half, int columns) {
        for (int a = 0; a < columns; a++) {
            for (int i = 0; i < n; i++) {
                mean[from + a] += half[a * n + i] * misses[i];
            }
        }
    }

    /** A covariance less what the statements explain of it. */
    private double[] less(double[] covariance, double[] halfRows, double[] halfColumns) {
        int rows = halfRows.length / n;
        int columns = halfColumns.length / n;
        double[] less = covariance.clone();
        for (int a = 0; a < rows; a++) {
            for (int b = 0; b < columns; b++) {
                for (int i = 0; i < n; i++) {
                    less[a * columns + b] -= halfRows[a * n + i] * halfColumns[b * n + i];
                }
            }
        }
        return less;
    }

    /** Classes vary about a common level, as the priors say; each has learnt what its doubt shows. */
    private double[] noiseCovariance() {
        Prior centre = model.layout().priors.line(Place.SIZE, "*", "noise", "-");
        double own =
                model.layout().priors.line(Place.SIZE, "*", "noise.kind", "-").value();
        double[] assumed = new double[classes * classes];
        for (int c = 0; c < classes; c++) {
            for (int d = 0; d < classes; d++) {
                assumed[c * classes + d] = centre.spread() * centre.spread() + (c == d ? own * own : 0);
            }
        }
        Cholesky.factor(assumed, classes);
        double[] precision = Cholesky.inverse(assumed, classes);
        for (int c = 0; c < classes; c++) {
            double doubt = before.sizes().noiseDoubt[c];
            precision[c * classes + c] += Math.max(0, 1 / (doubt * doubt) - 1 / (own * own));
        }
        Cholesky.factor(precision, classes);
        return Cholesky.inverse(precision, classes);
    }

    private OncePlusPartsModel combined(double[] at) {
        VarianceComponents sizes = before.sizes().copy();
        double[] ofNoise = half(byNoise, noise, classes);
        double[] left = less(noise, ofNoise, ofNoise);
        for (int c = 0; c < classes; c++) {
            sizes.noise[c] = Math.exp(at[width + c]);
            sizes.noiseDoubt[c] *= Math.sqrt(left[c * classes + c] / noise[c * classes + c]);
        }
        double[] ofColumns = half(byColumn, before.covariance(), width);
        int groups = before.block().length;
        double[][] block = new double[groups][];
        double[][] cross = new double[groups][];
        double[][] own = new double[groups][];
        for (int g = 0; g < groups; g++) {
            int wide = before.block()[g].length;
            double[] ofBlock = half(byColumn, before.cross()[g], wide);
            block[g] = before.block()[g].clone();
            moved(block[g], 0, ofBlock, wide);
            cross[g] = less(before.cross()[g], ofColumns, ofBlock);
            own[g] = less(before.own()[g], ofBlock, ofBlock);
        }
        double[] beta = Arrays.copyOf(at, width);
        double[] covariance = less(before.covariance(), ofColumns, ofColumns);
        return new OncePlusPartsModel(
                model.layout(),
                model.recorded(),
                model.tables(),
                new Posterior(beta, covariance, block, cross, own, sizes, before.personsTold(), before.widths()),
                model.maps(),
                model.stops(),
                model.persons(),
                model.dayVariance(),
                model.past());
    }
}
