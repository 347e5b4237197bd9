package org.earslot.duration.fit;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.earslot.duration.table.Names;

/**
 * One damped Gauss-Newton step of a fit to the maximum a posteriori, the variance sizes stepped alongside towards the
 * maximum of the Laplace evidence times their priors; {@link org.earslot.duration.predict.Location} says what is maximised.
 *
 * <p>Chunks of rows are fixed by their number, not by the machine, and summed in their order: the same table gives the
 * same result on any number of cores.
 */
final class GaussNewton {

    private static final int CHUNKS = 8;
    private static final double LARGEST_STEP = 0.7;

    /** A step goes back by this share of the one before. */
    private static final double TURNED_BACK = 0.3;

    private static final double RECOVERED = 1.15;

    /** The groups' sizes need the inverse of the whole system; they are stepped in every so many steps. */
    static final int SIZES_EVERY = 3;

    private GaussNewton() {}

    /**
     * The next fit.
     *
     * @param withSizes whether the groups' sizes are stepped, too
     */
    static Fit step(Fit fit, boolean withSizes) {
        double[] personMean = fit.personMean.clone();
        double[] personPrecision = fit.personPrecision.clone();
        SweepAccumulator sums = swept(fit, personMean, personPrecision);
        double[] blockPrecision = blockPrecision(fit);
        double ofPriors = addPriors(fit, sums.arrow, blockPrecision);
        ArrowheadSystem.Solved solved = sums.arrow.solve();
        double[] move = solved.step();
        double largest = largest(solved);
        double relaxed = relaxed(fit.progress, move);
        double damping = relaxed * (largest > LARGEST_STEP ? LARGEST_STEP / largest : 1);
        double[] beta = moved(fit.beta, move, damping);
        double[][] block = new double[fit.groups][];
        for (int g = 0; g < fit.groups; g++) {
            block[g] = moved(fit.block[g], solved.ownStep()[g], damping);
        }
        VarianceUpdate update = new VarianceUpdate(fit, beta, block, sums);
        double spent = withSizes ? update.groups(solved, blockPrecision) : fit.progress.spent();
        double change = update.others(spent);
        double largestSize = withSizes ? change : Math.max(fit.progress.largestSize(), change);
        return fit.moved(
                new Fit.Numbers(beta, block, personMean, personPrecision, update.sizes(), update.effects()),
                new Fit.Progress(
                        sums.logLikelihood + ofPriors - 0.5 * solved.logDetGroups(),
                        Math.max(largest, largestSize),
                        largestSize,
                        spent,
                        relaxed,
                        move,
                        solved));
    }

    /**
     * The sums over all visits.
     *
     * @param personMean takes the persons' next factors
     * @param personPrecision takes how sure they are
     */
    private static SweepAccumulator swept(Fit fit, double[] personMean, double[] personPrecision) {
        int[] bounds = bounds(fit);
        SweepAccumulator[] chunks = new SweepAccumulator[bounds.length - 1];
        IntStream numbers = IntStream.range(0, chunks.length);
        (chunks.length > 1 ? numbers.parallel() : numbers).forEach(chunk -> {
            Sweep sweep = new Sweep(fit, personMean, personPrecision);
            sweep.over(bounds[chunk], bounds[chunk + 1]);
            chunks[chunk] = sweep.sums;
        });
        SweepAccumulator all = chunks[0];
        for (int chunk = 1; chunk < chunks.length; chunk++) {
            all.add(chunks[chunk]);
        }
        return all;
    }

    /** Chunks of like size that do not cut a person. Small tables are one chunk. */
    private static int[] bounds(Fit fit) {
        int[] rows = fit.stretch.rows();
        int[] person = fit.visits.person;
        int chunks = rows.length < 2000 ? 1 : CHUNKS;
        int[] bounds = new int[chunks + 1];
        for (int chunk = 1; chunk < chunks; chunk++) {
            int at = (int) ((long) rows.length * chunk / chunks);
            at = Math.max(at, bounds[chunk - 1]);
            while (at < rows.length
                    && at > 0
                    && person[rows[at]] != Names.NONE
                    && person[rows[at]] == person[rows[at - 1]]) {
                at++;
            }
            bounds[chunk] = at;
        }
        bounds[chunks] = rows.length;
        return bounds;
    }

    /**
     * Adds what is assumed of coefficients and blocks.
     *
     * @return their part of the log-likelihood, but for constants
     */
    private static double addPriors(Fit fit, ArrowheadSystem arrow, double[] blockPrecision) {
        int width = fit.layout.width;
        for (int i = 0; i < width && !fit.flat(); i++) {
            double pull = 0;
            for (int j = 0; j < width; j++) {
                double precision = fit.effects.precision[i][j];
                if (precision != 0) {
                    pull += precision * (fit.design.priorMean[j] - fit.beta[j]);
                    if (j <= i) {
                        arrow.fixed[i * width + j] += precision;
                    }
                }
            }
            arrow.right[i] += pull;
        }
        double logLikelihood = 0;
        int blockWidth = fit.layout.blockWidth;
        for (int g = 0; g < fit.groups; g++) {
            for (int k = 0; k < blockWidth; k++) {
                arrow.own[g][k * blockWidth + k] += blockPrecision[k];
                arrow.ownRight[g][k] -= blockPrecision[k] * fit.block[g][k];
                logLikelihood -= 0.5 * fit.block[g][k] * fit.block[g][k] * blockPrecision[k];
                logLikelihood += 0.5 * Math.log(blockPrecision[k]);
            }
        }
        return logLikelihood;
    }

    private static double[] blockPrecision(Fit fit) {
        double[] precision = new double[fit.layout.blockWidth];
        // For the checks a group is one number; kinds and sides are held at nothing.
        double kind = fit.flat() ? 1e-6 : fit.sizes.groupKind;
        double side = fit.flat() ? 1e-6 : fit.sizes.groupSide;
        Arrays.fill(precision, 1 / (side * side));
        precision[0] = 1 / (fit.sizes.group * fit.sizes.group);
        for (int k = 1; k <= fit.layout.kinds; k++) {
            precision[k] = 1 / (kind * kind);
        }
        return precision;
    }

    private static double largest(ArrowheadSystem.Solved solved) {
        double largest = 0;
        for (double change : solved.step()) {
            largest = Math.max(largest, Math.abs(change));
        }
        for (double[] own : solved.ownStep()) {
            for (double change : own) {
                largest = Math.max(largest, Math.abs(change));
            }
        }
        return largest;
    }

    /**
     * The damping: steps that turn back without growing shorter are halved, since what is paid once and what each part
     * takes are hard to tell apart.
     */
    private static double relaxed(Fit.Progress before, double[] step) {
        double along = 0;
        double square = 0;
        for (int j = 0; j < step.length; j++) {
            along += step[j] * before.lastMove()[j];
            square += before.lastMove()[j] * before.lastMove()[j];
        }
        return along < -TURNED_BACK * square ? before.damping() / 2 : Math.min(1, before.damping() * RECOVERED);
    }

    private static double[] moved(double[] from, double[] step, double times) {
        double[] to = from.clone();
        for (int i = 0; i < to.length; i++) {
            to[i] += times * step[i];
        }
        return to;
    }
}
