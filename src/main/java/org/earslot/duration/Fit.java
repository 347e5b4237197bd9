package org.earslot.duration;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Names;

/**
 * Maximum a posteriori by damped Gauss-Newton, the variance sizes stepped alongside towards the maximum of the Laplace
 * evidence times their priors. Works on a growing stretch of the past, warm from the stretch before; mutable, owned by
 * one caller.
 *
 * <p>Chunks of rows are fixed by their number, not by the machine, and summed in their order: the same table gives the
 * same result on any number of cores.
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

    private static final int CHUNKS = 8;
    private static final double LARGEST_STEP = 0.7;

    /** A step goes back by this share of the one before. */
    private static final double TURNED_BACK = 0.3;

    private static final double RECOVERED = 1.15;

    /** The groups' sizes need the inverse of the whole system; they are stepped in every so many passes. */
    private static final int SIZES_EVERY = 3;

    final PastVisits visits;
    final Layout layout;
    final Design design;
    final Criterion criterion;
    final int groups;

    final double[] beta;
    final double[][] block;
    double[] personMean;
    double[] personNext;
    final double[] personPrecision;
    VarianceComponents sizes;

    /** Whether persons are told apart: some person has come twice. */
    final boolean persons;

    final int[] classOf;
    final boolean[] open;

    // Of the stretch in hand.
    int[] rows = {};
    double[] weights;
    ReportTables tables;
    double informative;
    ComfortStops stops;
    double logLikelihood;
    double lastStep = Double.POSITIVE_INFINITY;
    private ArrowheadSystem.@org.jspecify.annotations.Nullable Solved solved;

    Fit(Design design, Criterion criterion) {
        visits = design.visits;
        layout = design.layout;
        this.design = design;
        this.criterion = criterion;
        groups = layout.vocabulary.groups.size();
        beta = design.priorMean.clone();
        lastMove = new double[beta.length];
        block = new double[groups][layout.blockWidth];
        personMean = new double[layout.vocabulary.persons.size()];
        personNext = new double[personMean.length];
        personPrecision = new double[personMean.length];
        sizes = VarianceComponents.of(layout.priors, layout.kinds);
        persons = criterion == Criterion.EVIDENCE && someoneCameTwice();
        if (criterion != Criterion.EVIDENCE) {
            sizes.stubbornShare = 0;
        }
        Arrays.fill(personPrecision, 1 / (sizes.person * sizes.person));
        classOf = new int[visits.count];
        open = new boolean[visits.count];
        weights = visits.weight;
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
        tables = ReportTables.assumed(layout.vocabulary, layout.priors);
        stops = new ComfortStops(layout.priors);
        varianceUpdate = new VarianceUpdate(this);
    }

    private boolean someoneCameTwice() {
        boolean[] seen = new boolean[personMean.length];
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

    /** Starts from where another fit of the same visits has got to; columns that it did not have start as assumed. */
    void startFrom(Fit other) {
        System.arraycopy(other.beta, 0, beta, 0, Math.min(beta.length, other.beta.length));
        for (int g = 0; g < groups; g++) {
            System.arraycopy(other.block[g], 0, block[g], 0, block[g].length);
        }
        System.arraycopy(other.personMean, 0, personMean, 0, personMean.length);
        sizes = other.sizes.copy();
    }

    /**
     * Takes the first {@code upTo} visits in time as the past.
     *
     * @param weights by row
     * @param tables counted on the same visits
     */
    void stretch(int upTo, double[] weights, ReportTables tables) {
        rows = visits.byPerson(upTo);
        this.weights = weights;
        this.tables = tables;
        lastStep = Double.POSITIVE_INFINITY;
    }

    /** Passes until no coefficient and no size moves by more than {@code enough}, at most {@code most}. */
    void run(int most, double enough) {
        for (int pass = 0; pass < most && lastStep > enough; pass++) {
            withSizes = flat() || pass % SIZES_EVERY == 0;
            pass();
        }
    }

    private boolean withSizes = true;
    private double relaxed = 1;
    private double[] lastMove;
    private final VarianceUpdate varianceUpdate;
    private double largestSize = Double.POSITIVE_INFINITY;

    /** Stops expected in a visit's minutes. */
    double hazardTime(int row) {
        int first = visits.firstSegment[row];
        int parts = visits.firstSegment[row + 1] - first - 1;
        double hazard = 0;
        for (int s = first + 1; s <= first + parts; s++) {
            hazard += stops.hazard(layout.vocabulary.kinds.name(visits.kind[s])) / parts;
        }
        return hazard * Math.exp(visits.log[row]);
    }

    private void pass() {
        int[] bounds = bounds();
        SweepAccumulator[] passes = new SweepAccumulator[bounds.length - 1];
        IntStream chunks = IntStream.range(0, passes.length);
        (passes.length > 1 ? chunks.parallel() : chunks).forEach(chunk -> {
            Sweep pass = new Sweep(this);
            pass.over(bounds[chunk], bounds[chunk + 1]);
            passes[chunk] = pass.sums;
        });
        SweepAccumulator all = passes[0];
        for (int chunk = 1; chunk < passes.length; chunk++) {
            all.add(passes[chunk]);
        }
        double[] swap = personMean;
        personMean = personNext;
        personNext = swap;
        step(all);
    }

    /** Chunks of like size that do not cut a person. Small tables are one chunk. */
    private int[] bounds() {
        int chunks = rows.length < 2000 ? 1 : CHUNKS;
        int[] bounds = new int[chunks + 1];
        for (int chunk = 1; chunk < chunks; chunk++) {
            int at = (int) ((long) rows.length * chunk / chunks);
            at = Math.max(at, bounds[chunk - 1]);
            while (at < rows.length
                    && at > 0
                    && visits.person[rows[at]] != Names.NONE
                    && visits.person[rows[at]] == visits.person[rows[at - 1]]) {
                at++;
            }
            bounds[chunk] = at;
        }
        bounds[chunks] = rows.length;
        return bounds;
    }

    /** Whether the priors are left out. */
    boolean flat() {
        return criterion != Criterion.EVIDENCE;
    }

    private void step(SweepAccumulator sums) {
        ArrowheadSystem arrow = sums.arrow;
        int width = layout.width;
        logLikelihood = sums.logLikelihood;
        for (int i = 0; i < width; i++) {
            if (flat()) {
                continue;
            }
            double pull = 0;
            for (int j = 0; j < width; j++) {
                double precision = design.priorPrecision[i][j];
                if (precision != 0) {
                    pull += precision * (design.priorMean[j] - beta[j]);
                    if (j <= i) {
                        arrow.fixed[i * width + j] += precision;
                    }
                }
            }
            arrow.right[i] += pull;
        }
        double[] blockPrecision = blockPrecision();
        for (int g = 0; g < groups; g++) {
            for (int k = 0; k < layout.blockWidth; k++) {
                arrow.own[g][k * layout.blockWidth + k] += blockPrecision[k];
                arrow.ownRight[g][k] -= blockPrecision[k] * block[g][k];
                logLikelihood -= 0.5 * block[g][k] * block[g][k] * blockPrecision[k];
                logLikelihood += 0.5 * Math.log(blockPrecision[k]);
            }
        }
        ArrowheadSystem.Solved result = arrow.solve();
        solved = result;
        logLikelihood -= 0.5 * result.logDetGroups();
        double largest = move(result);
        double change = varianceUpdate.step(sums, result, blockPrecision, withSizes);
        largestSize = withSizes ? change : Math.max(largestSize, change);
        lastStep = Math.max(largest, largestSize);
    }

    private double[] blockPrecision() {
        double[] precision = new double[layout.blockWidth];
        // For the checks a group is one number; kinds and sides are held at nothing.
        double kind = flat() ? 1e-6 : sizes.groupKind;
        double side = flat() ? 1e-6 : sizes.groupSide;
        Arrays.fill(precision, 1 / (side * side));
        precision[0] = 1 / (sizes.group * sizes.group);
        for (int k = 1; k <= layout.kinds; k++) {
            precision[k] = 1 / (kind * kind);
        }
        return precision;
    }

    private double move(ArrowheadSystem.Solved result) {
        double largest = 0;
        for (double change : result.step()) {
            largest = Math.max(largest, Math.abs(change));
        }
        for (double[] own : result.ownStep()) {
            for (double change : own) {
                largest = Math.max(largest, Math.abs(change));
            }
        }
        relax(result.step());
        double damping = relaxed * (largest > LARGEST_STEP ? LARGEST_STEP / largest : 1);
        for (int j = 0; j < beta.length; j++) {
            beta[j] += damping * result.step()[j];
        }
        for (int g = 0; g < groups; g++) {
            for (int k = 0; k < layout.blockWidth; k++) {
                block[g][k] += damping * result.ownStep()[g][k];
            }
        }
        return largest;
    }

    /** Steps that turn back without growing shorter are halved: what is paid once and what each part takes are hard to tell. */
    private void relax(double[] step) {
        double along = 0;
        double before = 0;
        for (int j = 0; j < step.length; j++) {
            along += step[j] * lastMove[j];
            before += lastMove[j] * lastMove[j];
        }
        relaxed = along < -TURNED_BACK * before ? relaxed / 2 : Math.min(1, relaxed * RECOVERED);
        lastMove = step;
    }

    /** Stops for comfort or safety, and the minutes in which they came, of the whole past. */
    ComfortStops countedStops() {
        ComfortStops counted = new ComfortStops(layout.priors);
        for (int row : visits.order) {
            int first = visits.firstSegment[row] + 1;
            int parts = visits.firstSegment[row + 1] - first;
            double minutes = Math.exp(visits.log[row]) * weights[row];
            double stop = visits.ending[row] == Ending.STOPPED_FOR_COMFORT ? weights[row] : 0;
            for (int s = first; s < first + parts; s++) {
                counted.count(layout.vocabulary.kinds.name(visits.kind[s]), minutes / parts, stop / parts);
            }
            if (parts == 0) {
                counted.count("", minutes, stop);
            }
        }
        return counted;
    }

    /** The last solved system; one pass at least must have run. */
    ArrowheadSystem.Solved solved() {
        ArrowheadSystem.Solved result = solved;
        if (result == null) {
            throw new IllegalStateException("no pass has run");
        }
        return result;
    }
}
