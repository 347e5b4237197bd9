package org.earslot.duration.fit;

import org.earslot.duration.predict.Cholesky;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.predict.VarianceComponents;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;

/** The sizes of variance of a fit, stepped towards the maximum of the Laplace evidence times their priors. */
final class VarianceUpdate {

    private final Fit fit;
    private final Layout layout;
    private final double[][] block;
    private final SweepAccumulator sums;
    private final VarianceComponents sizes;
    private final double[] beta;
    private EffectSizes effects;

    /**
     * @param block of the groups once they have moved
     * @param sums of the sweep before
     */
    VarianceUpdate(Fit fit, double[] beta, double[][] block, SweepAccumulator sums) {
        this.fit = fit;
        this.beta = beta;
        effects = fit.effects;
        layout = fit.layout;
        this.block = block;
        this.sums = sums;
        sizes = fit.sizes.copy();
    }

    /** As stepped. */
    VarianceComponents sizes() {
        return sizes;
    }

    /** As stepped. */
    EffectSizes effects() {
        return effects;
    }

    /**
     * Steps all sizes but those of the groups.
     *
     * @param spent degrees of freedom that the location has spent
     * @return the largest change of a logarithm, of the groups' too
     */
    double others(double spent) {
        VarianceComponents before = fit.sizes;
        noise(spent);
        if (!fit.flat()) {
            outlier();
            personSize();
        }
        double largest = 0;
        for (int c = 0; c < sizes.noise.length; c++) {
            if (sums.classWeight[c] > 0) {
                largest = Math.max(largest, Math.abs(Math.log(sizes.noise[c] / before.noise[c])));
            }
        }
        largest = Math.max(largest, Math.abs(Math.log(sizes.group / before.group)));
        largest = Math.max(largest, Math.abs(Math.log(sizes.person / before.person)));
        if (!fit.flat()) {
            largest = Math.max(largest, 0.1 * Math.abs(sizes.outlierShift - before.outlierShift));
        }
        return largest;
    }

    /**
     * Steps the sizes of the groups.
     *
     * @return how many degrees of freedom the location has spent
     */
    double groups(ArrowheadSystem.Solved result, double[] blockPrecision) {
        double[] covariance = result.covariance();
        int width = layout.width;
        double spent = 0;
        if (fit.criterion != Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD) {
            spent = width;
            for (int i = 0; i < width && !fit.flat(); i++) {
                for (int j = 0; j < width; j++) {
                    spent -= fit.effects.precision[i][j] * covariance[i * width + j];
                }
            }
        }
        effects = fit.effects.stepped(beta, covariance);
        double[][][] pairs = result.ofGroups(covariance);
        double[] square = new double[3];
        double[] kept = new double[3];
        double[] count = new double[3];
        for (int g = 0; g < fit.groups; g++) {
            double[] own = fit.criterion == Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD
                    ? Cholesky.inverse(result.factors()[g], layout.blockWidth)
                    : pairs[g][1];
            for (int k = 0; k < layout.blockWidth; k++) {
                double doubt = own[k * layout.blockWidth + k];
                int which = k == 0 ? 0 : k <= layout.kinds ? 1 : 2;
                double variance = 1 / blockPrecision[k];
                square[which] += (block[g][k] * block[g][k] + doubt) / variance;
                double known = Math.max(0, 1 - doubt / variance);
                kept[which] += known * known;
                count[which]++;
                spent += 1 - doubt / variance;
            }
        }
        double[] spread = {0, 0};
        sizes.group = sized("group", sizes.group, square[0] - count[0], kept[0], spread);
        sizes.groupDoubt = spread[0];
        if (!fit.flat()) {
            sizes.groupKind = sized("group.kind", sizes.groupKind, square[1] - count[1], kept[1], spread);
            if (count[2] > 0) {
                sizes.groupSide = sized("group.side", sizes.groupSide, square[2] - count[2], kept[2], spread);
            }
        }
        return spent;
    }

    /** One scoring step of the logarithm of a size under its prior. */
    private double sized(String name, double size, double score, double kept, double[] doubt) {
        Prior prior = layout.priors.line(Place.SIZE, "*", name, "-");
        double about = fit.flat() ? 0 : 1 / (prior.spread() * prior.spread());
        double information = 2 * kept + about;
        if (!(information > 0)) {
            return size;
        }
        doubt[0] = 1 / Math.sqrt(information);
        double step = (score - about * Math.log(size / prior.value())) / information;
        return size * Math.exp(Math.max(-0.7, Math.min(0.7, step)));
    }

    private void noise(double spent) {
        double pooled = layout.priors.line(Place.SIZE, "*", "noise.kind", "-").value();
        Prior centre = layout.priors.line(Place.SIZE, "*", "noise", "-");
        double about = 1 / (pooled * pooled);
        int used = 0;
        double logs = 0;
        for (int c = 0; c < sizes.noise.length; c++) {
            double n = sums.classWeight[c];
            if (n > 0) {
                double squares = sums.classSquares[c] + sizes.noise[c] * sizes.noise[c] * spent * n / sums.weight;
                sizes.noise[c] = fit.flat()
                        ? Math.sqrt(squares / n)
                        : Math.exp(noise(Math.log(sizes.noise[c]), n, squares, about));
                sizes.noiseDoubt[c] = 1 / Math.sqrt(2 * n + about);
                // A class counts towards the common level by what it knows.
                used++;
                logs += Math.log(sizes.noise[c]);
            }
        }
        if (!fit.flat()) {
            double ofPrior = 1 / (centre.spread() * centre.spread());
            double log = (logs * about + Math.log(centre.value()) * ofPrior) / (used * about + ofPrior);
            sizes.noiseCentre = Math.exp(log);
            for (int c = 0; c < sizes.noise.length; c++) {
                if (sums.classWeight[c] == 0) {
                    sizes.noise[c] = sizes.noiseCentre;
                    sizes.noiseDoubt[c] = Math.sqrt(1 / about + 1 / (used * about + ofPrior));
                }
            }
        }
    }

    /** Maximises -n l - squares exp(-2 l) / 2 - about (l - centre)^2 / 2 by Newton. */
    private double noise(double log, double n, double squares, double about) {
        double centre = Math.log(sizes.noiseCentre);
        for (int step = 0; step < 20; step++) {
            double scaled = squares * Math.exp(-2 * log);
            double slope = -n + scaled - about * (log - centre);
            double bend = 2 * scaled + about;
            double change = Math.max(-1, Math.min(1, slope / bend));
            log += change;
            if (Math.abs(change) < 1e-14) {
                break;
            }
        }
        return log;
    }

    private void outlier() {
        Prior share = layout.priors.line(Place.SIZE, "*", "outlier.share", "-");
        Prior shift = layout.priors.line(Place.SIZE, "*", "outlier.shift", "-");
        Prior spread = layout.priors.line(Place.SIZE, "*", "outlier.spread", "-");
        // The log-normal prior of the share is worth about 1 / spread^2 outlying visits.
        double worth = 1 / (share.spread() * share.spread());
        sizes.outlierShare = Math.min(0.3, (sums.outlierWeight + worth) / (sums.weight + worth / share.value()));
        double scale = 1 / (sizes.outlierSpread * sizes.outlierSpread);
        double sd = shift.spread() * shift.value();
        double precision = 1 / (sd * sd);
        sizes.outlierShift = Math.max(
                0,
                (sums.outlierFirst * scale + precision * shift.value()) / (sums.outlierPrecision * scale + precision));
        double squares = sums.outlierSquare
                - 2 * sizes.outlierShift * sums.outlierFirst
                + sizes.outlierShift * sizes.outlierShift * sums.outlierPrecision;
        double worthSpread = 1 / (2 * spread.spread() * spread.spread());
        sizes.outlierSpread = Math.sqrt(
                (squares + worthSpread * spread.value() * spread.value()) / (sums.outlierWeight + worthSpread));
        sizes.outlierSpread = Math.max(0.7, Math.min(3, sizes.outlierSpread));
    }

    private void personSize() {
        if (!fit.persons) {
            return;
        }
        Prior prior = layout.priors.line(Place.SIZE, "*", "person", "-");
        double about = 1 / (prior.spread() * prior.spread());
        // The derivative by log of the size is twice that by half the log of the variance.
        double score = sums.personScore - about * Math.log(sizes.person / prior.value());
        double information = sums.personInformation + about;
        sizes.person *= Math.exp(Math.max(-0.4, Math.min(0.4, score / information)));
    }
}
