package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.ComfortStops;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.predict.VarianceComponents;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Names;
import org.jspecify.annotations.Nullable;

/**
 * A fit as it stands: what it runs on, and what it has found so far of the model that {@link
 * org.earslot.duration.predict.Location} describes. A value: each step of {@link GaussNewton} makes another one.
 */
final class Fit {

    /** What a fit maximises. */
    enum Criterion {
        /** Coefficients a posteriori, sizes by evidence: the estimator's own. */
        EVIDENCE,
        /** Evidence with flat priors and normal noise: restricted maximum likelihood, for checks. */
        FLAT_EVIDENCE,
        /** Coefficients and sizes by joint maximum likelihood, normal noise, groups integrated out: for checks. */
        JOINT_MAXIMUM_LIKELIHOOD
    }

    /**
     * The visits that it runs on.
     *
     * @param rows by person, see {@link PastVisits#byPerson}
     * @param weights by row of the table
     * @param tables counted on the same visits
     * @param level by row of the table: what all times of its day have in common beyond the model, on the log scale
     */
    record Stretch(int[] rows, double[] weights, ReportTables tables, double[] level) {}

    /**
     * What is found.
     *
     * @param block by group
     * @param personMean by person, its precision beside it
     */
    record Numbers(
            double[] beta,
            double[][] block,
            double[] personMean,
            double[] personPrecision,
            VarianceComponents sizes,
            EffectSizes effects) {}

    /**
     * How far it has come.
     *
     * @param lastStep the largest move of a coefficient or size in the last step
     * @param largestSize that of a size when all of them were last stepped
     * @param spent degrees of freedom that the location had spent then
     * @param damping of the last step
     * @param solved the system of the last step
     */
    record Progress(
            double logLikelihood,
            double lastStep,
            double largestSize,
            double spent,
            double damping,
            double[] lastMove,
            ArrowheadSystem.@Nullable Solved solved) {

        Progress onAnotherStretch() {
            return new Progress(logLikelihood, Double.POSITIVE_INFINITY, largestSize, spent, damping, lastMove, solved);
        }
    }

    /** Stops that fall on visits that are harder than they look, see {@link InformativeStops}; gamma 0 for none such. */
    record Informative(double gamma, ComfortStops stops) {}

    final PastVisits visits;
    final Layout layout;
    final Design design;
    final Criterion criterion;
    final int groups;

    /** Whether persons are told apart: some person has come twice. */
    final boolean persons;

    /** By row: its class of noise, and whether a finding of it is not known. */
    final int[] classOf;

    final boolean[] open;

    final Informative informative;
    final Stretch stretch;
    final Progress progress;

    final double[] beta;
    final double[][] block;
    final double[] personMean;
    final double[] personPrecision;
    final VarianceComponents sizes;
    final EffectSizes effects;

    private final Numbers numbers;

    /** At the assumed coefficients, on no visit yet. */
    Fit(Design design, Criterion criterion) {
        visits = design.visits;
        layout = design.layout;
        this.design = design;
        this.criterion = criterion;
        groups = layout.vocabulary.groups.size();
        persons = criterion == Criterion.EVIDENCE && someoneCameTwice();
        classOf = new int[visits.count];
        open = new boolean[visits.count];
        for (int row = 0; row < visits.count; row++) {
            int first = visits.firstSegment[row];
            int parts = visits.firstSegment[row + 1] - first - 1;
            // The checks know one noise for all.
            classOf[row] =
                    flat() ? 0 : VarianceComponents.noiseClass(parts == 0 ? Names.NONE : visits.kind[first + 1], parts);
            for (int s = first; s <= first + parts; s++) {
                open[row] |= design.open[s];
            }
        }
        informative = new Informative(0, new ComfortStops(layout.priors));
        stretch = new Stretch(
                new int[0],
                visits.weight,
                ReportTables.assumed(layout.vocabulary, layout.priors),
                new double[visits.count]);
        beta = design.priorMean.clone();
        block = new double[groups][layout.blockWidth];
        sizes = VarianceComponents.of(layout.priors, layout.kinds);
        if (criterion != Criterion.EVIDENCE) {
            sizes.outlierShare = 0;
        }
        personMean = new double[layout.vocabulary.persons.size()];
        personPrecision = new double[personMean.length];
        Arrays.fill(personPrecision, 1 / (sizes.person * sizes.person));
        effects = EffectSizes.of(design, criterion == Criterion.EVIDENCE && !layout.priors.knowMinutes());
        numbers = new Numbers(beta, block, personMean, personPrecision, sizes, effects);
        double infinite = Double.POSITIVE_INFINITY;
        progress = new Progress(0, infinite, infinite, 0, 1, new double[beta.length], null);
    }

    private Fit(Fit before, Informative informative, Stretch stretch, Numbers numbers, Progress progress) {
        visits = before.visits;
        layout = before.layout;
        design = before.design;
        criterion = before.criterion;
        groups = before.groups;
        persons = before.persons;
        classOf = before.classOf;
        open = before.open;
        this.informative = informative;
        this.stretch = stretch;
        this.progress = progress;
        this.numbers = numbers;
        beta = numbers.beta();
        block = numbers.block();
        personMean = numbers.personMean();
        personPrecision = numbers.personPrecision();
        sizes = numbers.sizes();
        effects = numbers.effects();
    }

    private boolean someoneCameTwice() {
        boolean[] seen = new boolean[layout.vocabulary.persons.size()];
        for (int row = 0; row < visits.count; row++) {
            int who = visits.person[row];
            if (who != Names.NONE) {
                if (seen[who]) {
                    return true;
                }
                seen[who] = true;
            }
        }
        return false;
    }

    /** This one, where another fit of the same visits has got to; columns that it did not have are as assumed. */
    Fit startingFrom(Fit other) {
        double[] coefficients = beta.clone();
        System.arraycopy(other.beta, 0, coefficients, 0, Math.min(beta.length, other.beta.length));
        return new Fit(
                this,
                informative,
                stretch,
                new Numbers(
                        coefficients,
                        other.block,
                        other.personMean,
                        personPrecision,
                        other.sizes,
                        other.effects.in(design)),
                progress);
    }

    /**
     * This one, on the first {@code upTo} visits in time.
     *
     * @param weights by row
     * @param tables counted on the same visits
     */
    Fit on(int upTo, double[] weights, ReportTables tables) {
        Stretch next = new Stretch(visits.byPerson(upTo), weights, tables, stretch.level());
        return new Fit(this, informative, next, numbers, progress.onAnotherStretch());
    }

    /** This one, where the times of each row's day lie by so much above the model, on the log scale. */
    Fit following(double[] level) {
        Stretch next = new Stretch(stretch.rows(), stretch.weights(), stretch.tables(), level);
        return new Fit(this, informative, next, numbers, progress.onAnotherStretch());
    }

    /** This one, with stops that fall on hard visits. */
    Fit with(Informative stopping) {
        return new Fit(this, stopping, stretch, numbers, progress);
    }

    /** One step further. */
    Fit moved(Numbers to, Progress further) {
        return new Fit(this, informative, stretch, to, further);
    }

    /** Steps until no coefficient and no size moves by more than {@code enough}, at most {@code most}. */
    Fit run(int most, double enough) {
        Fit fit = this;
        for (int step = 0; step < most && fit.progress.lastStep() > enough; step++) {
            fit = GaussNewton.step(fit, flat() || step % GaussNewton.SIZES_EVERY == 0);
        }
        return fit;
    }

    /** Whether the priors are left out. */
    boolean flat() {
        return criterion != Criterion.EVIDENCE;
    }

    /** Stops expected in a visit's minutes. */
    double hazardTime(int row) {
        int first = visits.firstSegment[row];
        int parts = visits.firstSegment[row + 1] - first - 1;
        double hazard = 0;
        for (int s = first + 1; s <= first + parts; s++) {
            hazard += informative.stops().hazard(layout.vocabulary.kinds.name(visits.kind[s])) / parts;
        }
        return hazard * Math.exp(visits.log[row]);
    }

    /** Stops for comfort or safety, and the minutes in which they came, of the whole past. */
    ComfortStops countedStops() {
        ComfortStops counted = new ComfortStops(layout.priors);
        for (int row : visits.order) {
            int first = visits.firstSegment[row] + 1;
            int parts = visits.firstSegment[row + 1] - first;
            double minutes = Math.exp(visits.log[row]) * stretch.weights()[row];
            double stop = visits.ending[row] == Ending.STOPPED_FOR_COMFORT ? stretch.weights()[row] : 0;
            for (int s = first; s < first + parts; s++) {
                counted.count(layout.vocabulary.kinds.name(visits.kind[s]), minutes / parts, stop / parts);
            }
            if (parts == 0) {
                counted.count("", minutes, stop);
            }
        }
        return counted;
    }

    /** The system of the last step; one at least must have been made. */
    ArrowheadSystem.Solved solved() {
        ArrowheadSystem.Solved result = progress.solved();
        if (result == null) {
            throw new IllegalStateException("no step was made");
        }
        return result;
    }
}
