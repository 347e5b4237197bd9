package org.earslot.duration;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * One walk over a chunk of the past visits, person by person: the sums that a Gauss-Newton step needs, and those of the
 * variance sizes. Owned by one thread.
 *
 * <p>A person's own log factor is eliminated as one goes: with gradient G and precision P of it, every row's slope g
 * becomes g - W G / P, and the rows' precision loses the outer product of their weighted designs over P, taken for each
 * group of the person apart so that groups do not meet.
 */
final class Pass {

    /** Points kept of an open segment. */
    private static final int OPEN_POINTS = 8;

    /** Three open segments; any more stand at their mean. */
    private static final int MOST_COMBINATIONS = OPEN_POINTS * OPEN_POINTS * OPEN_POINTS;

    /** A person's visits say at least this share of what they would if nothing about them were hidden. */
    private static final double LEAST_INFORMATION = 0.1;

    private final Fit fit;
    private final PastVisits visits;
    private final Design design;
    private final Layout layout;
    private final Noise noise = new Noise();

    final Arrow arrow;
    double logLikelihood;
    double weight;
    final double[] classWeight;
    final double[] classSquares;
    double stubbornWeight;
    double stubbornPrecision;
    double stubbornFirst;
    double stubbornSquare;
    double personScore;
    double personInformation;
    long persons;

    // Of the row in hand.
    private final double[] accumulated;
    private final int[] mark;
    private final int[] touched;
    private int touchedCount;
    private int stamp;
    private final double[] local;
    private double rowSlope;
    private double rowPrecision;
    private double rowInformation;
    private double rowSquare;
    private double rowOdd;
    private double rowOddFirst;
    private double[] minutes = new double[8];

    // Of the person in hand.
    private int[] bufferColumn = new int[256];
    private double[] bufferValue = new double[256];
    private int[] bufferFirst = new int[9];
    private double[] slopes = new double[8];
    private double[] precisions = new double[8];
    private double[] odds = new double[8];
    private double[] oddFirsts = new double[8];
    private int[] rowGroup = new int[8];
    private double[][] locals = new double[8][];
    private double sumPrecision;
    private double sumInformation;
    private double sumSlope;

    // Of a cluster: one person's rows in one group.
    private final double[] cluster;
    private final double[] clusterLocal;

    private Bins[] bins = new Bins[0];
    private double[] shares = new double[16];
    private final Circumstances.Buffer given = new Circumstances.Buffer();
    private double[][] expectedSlope = new double[0][];
    private double[][] expectedPrecision = new double[0][];

    Pass(Fit fit) {
        this.fit = fit;
        visits = fit.visits;
        design = fit.design;
        layout = fit.layout;
        arrow = new Arrow(layout.width, layout.blockWidth, fit.groups);
        classWeight = new double[fit.sizes.noise.length];
        classSquares = new double[fit.sizes.noise.length];
        accumulated = new double[layout.width];
        mark = new int[layout.width];
        touched = new int[layout.width];
        local = new double[layout.blockWidth];
        cluster = new double[layout.width];
        clusterLocal = new double[layout.blockWidth];
        noise.set(fit.sizes, fit.informative);
    }

    /** Rows from one place to another of the fit's order by person; both at borders between persons. */
    void over(int from, int to) {
        int i = from;
        while (i < to) {
            int who = visits.person[fit.rows[i]];
            int end = i + 1;
            while (who != Names.NONE && end < to && visits.person[fit.rows[end]] == who) {
                end++;
            }
            person(who, i, end);
            i = end;
        }
    }

    private void person(int who, int from, int to) {
        boolean withEffect = who != Names.NONE && fit.persons;
        int rows = to - from;
        ensureRows(rows);
        sumPrecision = 0;
        sumInformation = 0;
        sumSlope = 0;
        bufferFirst[0] = 0;
        double effect = withEffect ? fit.personMean[who] : 0;
        for (int r = 0; r < rows; r++) {
            row(fit.rows[from + r], effect, r);
            sumPrecision += precisions[r];
            sumInformation += rowInformation;
            sumSlope += slopes[r];
        }
        double shrink = 0;
        double step = 0;
        double precision = 0;
        if (withEffect) {
            double assumed = 1 / (fit.sizes.person * fit.sizes.person);
            precision = sumPrecision + assumed;
            double slope = sumSlope - effect * assumed;
            shrink = slope / precision;
            step = Math.max(-0.5, Math.min(0.5, shrink));
            fit.personNext[who] = effect + step;
            fit.personPrecision[who] = precision;
            logLikelihood -= 0.5 * effect * effect * assumed;
            sizeOfPersons(effect);
            persons++;
        }
        for (int r = 0; r < rows; r++) {
            int row = fit.rows[from + r];
            if (withEffect) {
                // The squares of the noise as they are once the person's factor has moved, and what its own doubt adds.
                int in = fit.classOf[row];
                double moved = moved(slopes[r], precisions[r], step);
                classSquares[in] += fit.sizes.noise[in] * fit.sizes.noise[in] * moved + fit.weights[row] / precision;
                stubbornFirst -= step * odds[r];
                stubbornSquare += step * (odds[r] * step - 2 * oddFirsts[r]);
                scaleGradient(r, precisions[r] * shrink);
            }
        }
        if (!withEffect) {
            for (int r = 0; r < rows; r++) {
                outer(r, precisions[r]);
            }
            return;
        }
        clusters(rows, precision);
    }

    /** By how much a step of the location changes the expected square of a row's residual, in units of its noise. */
    private static double moved(double slope, double precision, double step) {
        return step * (precision * step - 2 * slope);
    }

    private void sizeOfPersons(double effect) {
        // Marginal likelihood of v = person^2: pull^2 v / (1 + W v) / 2 - log(1 + W v) / 2.
        double known = Math.max(LEAST_INFORMATION * sumPrecision, sumInformation);
        double pull = sumSlope + known * effect;
        double v = fit.sizes.person * fit.sizes.person;
        double share = known * v / (1 + known * v);
        personScore += pull * pull * v / ((1 + known * v) * (1 + known * v)) - share;
        personInformation += 2 * share * share;
    }

    /** One person's rows, group by group, with the person's factor eliminated inside each group. */
    private void clusters(int rows, double precision) {
        for (int r = 0; r < rows; r++) {
            if (rowGroup[r] == Integer.MIN_VALUE) {
                continue;
            }
            int group = rowGroup[r];
            double sum = 0;
            int members = 0;
            for (int s = r; s < rows; s++) {
                if (rowGroup[s] == group) {
                    sum += precisions[s];
                    members++;
                }
            }
            double assumed = precision - sumPrecision;
            double own = sum + assumed;
            if (members == 1) {
                outer(r, precisions[r] * assumed / own);
                continue;
            }
            stamp++;
            touchedCount = 0;
            Arrays.fill(clusterLocal, 0);
            for (int s = r; s < rows; s++) {
                if (rowGroup[s] == group) {
                    outer(s, precisions[s]);
                    gather(s);
                    if (s > r) {
                        rowGroup[s] = Integer.MIN_VALUE;
                    }
                }
            }
            outer(cluster, clusterLocal, group, -1 / own);
        }
    }

    private void gather(int r) {
        for (int b = bufferFirst[r]; b < bufferFirst[r + 1]; b++) {
            int column = bufferColumn[b];
            double value = precisions[r] * bufferValue[b];
            if (mark[column] != stamp) {
                mark[column] = stamp;
                touched[touchedCount++] = column;
                cluster[column] = value;
            } else {
                cluster[column] += value;
            }
        }
        for (int k = 0; k < clusterLocal.length; k++) {
            clusterLocal[k] += precisions[r] * locals[r][k];
        }
    }

    private void outer(double[] values, double[] own, int group, double times) {
        int width = layout.width;
        double[] fixed = arrow.fixed;
        for (int i = 0; i < touchedCount; i++) {
            int a = touched[i];
            double va = values[a] * times;
            for (int j = 0; j <= i; j++) {
                int b = touched[j];
                fixed[a >= b ? a * width + b : b * width + a] += va * values[b];
            }
            if (group != Names.NONE) {
                double[] joint = arrow.joint[group];
                int at = a * own.length;
                for (int k = 0; k < own.length; k++) {
                    joint[at + k] += va * own[k];
                }
            }
        }
        ownSquare(own, group, times);
    }

    private void ownSquare(double[] own, int group, double times) {
        if (group == Names.NONE) {
            return;
        }
        double[] square = arrow.own[group];
        int n = own.length;
        for (int k = 0; k < n; k++) {
            if (own[k] != 0) {
                for (int l = 0; l <= k; l++) {
                    square[k * n + l] += times * own[k] * own[l];
                }
            }
        }
    }

    private void outer(int r, double times) {
        int width = layout.width;
        double[] fixed = arrow.fixed;
        int first = bufferFirst[r];
        int last = bufferFirst[r + 1];
        int group = visitsGroup[r];
        double[] own = locals[r];
        for (int i = first; i < last; i++) {
            int a = bufferColumn[i];
            double va = bufferValue[i] * times;
            for (int j = first; j <= i; j++) {
                int b = bufferColumn[j];
                fixed[a >= b ? a * width + b : b * width + a] += va * bufferValue[j];
            }
            if (group != Names.NONE) {
                double[] joint = arrow.joint[group];
                int at = a * own.length;
                for (int k = 0; k < own.length; k++) {
                    joint[at + k] += va * own[k];
                }
            }
        }
        ownSquare(own, group, times);
    }

    private int[] visitsGroup = new int[8];

    /** Takes off each row's gradient what the person's factor explains. */
    private void scaleGradient(int r, double less) {
        int group = visitsGroup[r];
        for (int b = bufferFirst[r]; b < bufferFirst[r + 1]; b++) {
            arrow.right[bufferColumn[b]] -= less * bufferValue[b];
        }
        if (group != Names.NONE) {
            double[] own = arrow.ownRight[group];
            for (int k = 0; k < own.length; k++) {
                own[k] -= less * locals[r][k];
            }
        }
    }

    private void ensureRows(int rows) {
        if (slopes.length < rows) {
            int size = Math.max(rows, 2 * slopes.length);
            slopes = new double[size];
            precisions = new double[size];
            odds = new double[size];
            oddFirsts = new double[size];
            rowGroup = new int[size];
            visitsGroup = new int[size];
            locals = Arrays.copyOf(locals, size);
            bufferFirst = Arrays.copyOf(bufferFirst, size + 1);
        }
    }

    // ---- one row -------------------------------------------------------------------------------------------------

    private void row(int row, double effect, int r) {
        int group = visits.group[row];
        rowGroup[r] = group;
        visitsGroup[r] = group;
        double @Nullable [] block = group == Names.NONE ? null : fit.block[group];
        stamp++;
        touchedCount = 0;
        Arrays.fill(local, 0);
        if (fit.open[row]) {
            openRow(row, effect, block);
        } else {
            closedRow(row, effect, block);
        }
        slopes[r] = rowSlope;
        precisions[r] = rowPrecision;
        odds[r] = rowOdd;
        oddFirsts[r] = rowOddFirst;
        int at = bufferFirst[r];
        if (at + touchedCount > bufferColumn.length) {
            bufferColumn = Arrays.copyOf(bufferColumn, 2 * (at + touchedCount));
            bufferValue = Arrays.copyOf(bufferValue, 2 * (at + touchedCount));
        }
        for (int i = 0; i < touchedCount; i++) {
            bufferColumn[at + i] = touched[i];
            bufferValue[at + i] = accumulated[touched[i]];
        }
        bufferFirst[r + 1] = at + touchedCount;
        if (locals[r] == null) {
            locals[r] = new double[local.length];
        }
        System.arraycopy(local, 0, locals[r], 0, local.length);
    }

    private void touch(int column, double value) {
        if (mark[column] != stamp) {
            mark[column] = stamp;
            touched[touchedCount++] = column;
            accumulated[column] = value;
        } else {
            accumulated[column] += value;
        }
    }

    /** The log minutes of all that is known of a segment. */
    private double known(int segment, int row, double @Nullable [] block) {
        double sum = 0;
        double[] value = design.value;
        for (int c = design.first[segment]; c < design.first[segment + 1]; c++) {
            double b = fit.beta[design.column[c]];
            sum += value == null ? b : b * value[c];
        }
        int kind = visits.kind[segment];
        if (kind == Names.NONE) {
            if (layout.lateColumn != Layout.NONE) {
                sum += fit.beta[layout.lateColumn] * visits.late[row];
            }
        } else if (block != null) {
            sum += block[layout.kindInBlock(kind)];
            if (design.side[segment] != Names.NONE) {
                sum += block[layout.sideInBlock(design.side[segment])];
            }
        }
        return sum;
    }

    private void closedRow(int row, double effect, double @Nullable [] block) {
        int first = visits.firstSegment[row];
        int last = visits.firstSegment[row + 1];
        if (minutes.length < last - first) {
            minutes = new double[2 * (last - first)];
        }
        double total = 0;
        for (int s = first; s < last; s++) {
            double own = Math.exp(known(s, row, block));
            minutes[s - first] = own;
            total += own;
        }
        double location = Math.log(total) + effect + hurried(row) + (block == null ? 0 : block[0]);
        likelihood(row, location);
        double weight = fit.weights[row];
        sumUp(row, weight);
        rowSlope = weight * noise.slope;
        rowPrecision = weight * noise.precision;
        rowInformation = weight * noise.information;
        logLikelihood += weight * Math.log(Math.max(1e-300, noise.likelihood));
        for (int s = first; s < last; s++) {
            segmentDesign(s, row, minutes[s - first] / total);
        }
        touchHurry(row, 1);
        local[0] = 1;
        addRight(row, rowSlope, accumulated, local);
    }

    private void addRight(int row, double times, double[] values, double[] own) {
        for (int i = 0; i < touchedCount; i++) {
            arrow.right[touched[i]] += times * values[touched[i]];
        }
        int group = visits.group[row];
        if (group != Names.NONE) {
            double[] right = arrow.ownRight[group];
            for (int k = 0; k < own.length; k++) {
                right[k] += times * own[k];
            }
        }
    }

    private void segmentDesign(int s, int row, double share) {
        double[] value = design.value;
        for (int c = design.first[s]; c < design.first[s + 1]; c++) {
            touch(design.column[c], value == null ? share : share * value[c]);
        }
        int kind = visits.kind[s];
        if (kind == Names.NONE) {
            if (layout.lateColumn != Layout.NONE && visits.late[row] > 0) {
                touch(layout.lateColumn, share * visits.late[row]);
            }
        } else {
            local[layout.kindInBlock(kind)] += share;
            if (design.side[s] != Names.NONE) {
                local[layout.sideInBlock(design.side[s])] += share;
            }
        }
    }

    private double hurried(int row) {
        double late = visits.late[row];
        if (late == 0 || layout.lateColumn == Layout.NONE) {
            return 0;
        }
        double sum = 0;
        for (int bend = 0; bend < layout.hurry.length; bend++) {
            sum += fit.beta[layout.hurry[bend]] * Layout.hurry(bend, late);
        }
        return sum;
    }

    private void touchHurry(int row, double times) {
        double late = visits.late[row];
        for (int bend = 0; bend < layout.hurry.length && late > 0; bend++) {
            double minutes = Layout.hurry(bend, late);
            if (minutes > 0) {
                touch(layout.hurry[bend], times * minutes);
            }
        }
    }

    private void likelihood(int row, double location) {
        double residual = visits.log[row] - location;
        double sigma = fit.sizes.noise[fit.classOf[row]];
        Ending ending = visits.ending[row];
        if (ending == Ending.COMPLETED) {
            noise.completed(residual, sigma, fit.informative == 0 ? 0 : fit.hazardTime(row));
        } else {
            noise.cutShort(residual, sigma, ending == Ending.STOPPED_FOR_COMFORT);
        }
    }

    private void sumUp(int row, double weight) {
        int in = fit.classOf[row];
        double sigma = fit.sizes.noise[in];
        double odd = weight * noise.stubborn;
        double shift = fit.sizes.stubbornShift;
        double spread = fit.sizes.stubbornSpread;
        double aboutShift = noise.stubbornSquare - 2 * shift * noise.stubbornFirst + shift * shift;
        classWeight[in] += weight;
        double squares = (weight - odd) * noise.ordinarySquare + odd * aboutShift / (spread * spread);
        classSquares[in] += squares;
        rowSquare = squares / (weight * sigma * sigma);
        this.weight += weight;
        stubbornWeight += odd;
        rowOdd = odd / (sigma * sigma);
        rowOddFirst = rowOdd * noise.stubbornFirst;
        stubbornPrecision += rowOdd;
        stubbornFirst += rowOddFirst;
        stubbornSquare += rowOdd * noise.stubbornSquare;
    }

    // ---- a row with findings not known ---------------------------------------------------------------------------

    /** Every combination of the open segments' points is weighed by how well it explains the minutes. */
    private void openRow(int row, double effect, double @Nullable [] block) {
        int first = visits.firstSegment[row];
        int count = visits.firstSegment[row + 1] - first;
        if (minutes.length < count) {
            minutes = new double[2 * count];
        }
        if (bins.length < count) {
            int had = bins.length;
            bins = Arrays.copyOf(bins, count);
            expectedSlope = Arrays.copyOf(expectedSlope, count);
            expectedPrecision = Arrays.copyOf(expectedPrecision, count);
            for (int s = had; s < count; s++) {
                bins[s] = new Bins(OPEN_POINTS);
                expectedSlope[s] = new double[64];
                expectedPrecision[s] = new double[64];
            }
        }
        int combinations = 1;
        for (int s = 0; s < count; s++) {
            bins[s].start(known(first + s, row, block));
            if (design.open[first + s]) {
                spreadOpen(first + s, row, bins[s]);
            }
            if (combinations * bins[s].count > MOST_COMBINATIONS) {
                bins[s].collapse();
            }
            combinations *= bins[s].count;
            Arrays.fill(expectedSlope[s], 0, bins[s].count, 0);
            Arrays.fill(expectedPrecision[s], 0, bins[s].count, 0);
        }
        weigh(row, effect + hurried(row) + (block == null ? 0 : block[0]), count, combinations);
        openDesign(row, first, count);
    }

    private void spreadOpen(int s, int row, Bins into) {
        int place = visits.kind[s] + 1;
        fit.tables.circumstances.gather(visits, row, s, given);
        for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
            long term = visits.term[t];
            int factor = PastVisits.factorOf(term);
            int[] columns = PastVisits.isNumber(term) ? null : layout.columns[place][factor];
            if (columns == null
                    || columns.length < 2
                    || !design.recorded[factor]
                    || PastVisits.foundOf(term) != Names.NONE) {
                continue;
            }
            if (shares.length < columns.length) {
                shares = new double[columns.length];
            }
            fit.tables
                    .of(factor)
                    .shares(PastVisits.reportedOf(term), visits.source[row], given, visits.recollection(t), shares);
            into.spread(columns, shares, fit.beta);
        }
    }

    private void weigh(int row, double beyond, int count, int combinations) {
        double weight = fit.weights[row];
        double total = 0;
        rowSlope = 0;
        rowPrecision = 0;
        double information = 0;
        double odd = 0;
        double ordinary = 0;
        double oddFirst = 0;
        double oddSquare = 0;
        for (int combination = 0; combination < combinations; combination++) {
            double sum = 0;
            double p = 1;
            int rest = combination;
            for (int s = 0; s < count; s++) {
                int point = rest % bins[s].count;
                rest /= bins[s].count;
                sum += bins[s].minutes[point];
                p *= bins[s].share[point];
            }
            likelihood(row, Math.log(sum) + beyond);
            double l = p * Math.max(1e-280, noise.likelihood);
            total += l;
            rowSlope += l * noise.slope;
            rowPrecision += l * noise.precision;
            information += l * (noise.information - noise.slope * noise.slope);
            odd += l * noise.stubborn;
            ordinary += l * (1 - noise.stubborn) * noise.ordinarySquare;
            oddFirst += l * noise.stubborn * noise.stubbornFirst;
            oddSquare += l * noise.stubborn * noise.stubbornSquare;
            rest = combination;
            for (int s = 0; s < count; s++) {
                int point = rest % bins[s].count;
                rest /= bins[s].count;
                double share = bins[s].minutes[point] / sum;
                expectedSlope[s][point] += l * noise.slope * share;
                expectedPrecision[s][point] += l * noise.precision * share;
            }
        }
        double mean = rowSlope / total;
        rowInformation = weight * (information / total + mean * mean);
        double scale = weight / total;
        rowSlope *= scale;
        rowPrecision *= scale;
        for (int s = 0; s < count; s++) {
            for (int point = 0; point < bins[s].count; point++) {
                expectedSlope[s][point] *= scale;
                expectedPrecision[s][point] *= scale;
            }
        }
        logLikelihood += weight * Math.log(total);
        sumUpOpen(row, weight, odd * scale, ordinary * scale, oddFirst * scale, oddSquare * scale);
    }

    private void sumUpOpen(int row, double weight, double odd, double ordinary, double first, double square) {
        int in = fit.classOf[row];
        double sigma = fit.sizes.noise[in];
        double shift = fit.sizes.stubbornShift;
        double spread = fit.sizes.stubbornSpread;
        classWeight[in] += weight;
        double squares = ordinary + (square - 2 * shift * first + shift * shift * odd) / (spread * spread);
        classSquares[in] += squares;
        rowSquare = squares / (weight * sigma * sigma);
        this.weight += weight;
        stubbornWeight += odd;
        rowOdd = odd / (sigma * sigma);
        rowOddFirst = first / (sigma * sigma);
        stubbornPrecision += rowOdd;
        stubbornFirst += rowOddFirst;
        stubbornSquare += square / (sigma * sigma);
    }

    /** The design is averaged with the rows' precision, the gradient with their slopes. */
    private void openDesign(int row, int first, int count) {
        // The gradient by its own weights.
        for (int s = 0; s < count; s++) {
            openSegment(first + s, row, bins[s], expectedSlope[s], 1);
        }
        touchHurry(row, rowSlope);
        local[0] = rowSlope;
        addRight(row, 1, accumulated, local);
        stamp++;
        touchedCount = 0;
        Arrays.fill(local, 0);
        double scale = rowPrecision > 0 ? 1 / rowPrecision : 0;
        for (int s = 0; s < count; s++) {
            openSegment(first + s, row, bins[s], expectedPrecision[s], scale);
        }
        touchHurry(row, 1);
        local[0] = 1;
    }

    private void openSegment(int s, int row, Bins of, double[] expected, double scale) {
        double sum = 0;
        for (int point = 0; point < of.count; point++) {
            sum += expected[point];
        }
        segmentDesign(s, row, sum * scale);
        for (int slot = 0; slot < of.slots; slot++) {
            int column = of.slotColumn[slot];
            if (column == Layout.NONE) {
                continue;
            }
            double value = 0;
            for (int point = 0; point < of.count; point++) {
                value += expected[point] * of.design[point][slot];
            }
            if (value != 0) {
                touch(column, value * scale);
            }
        }
    }

    /** Evaluates a row as it stands. */
    void evaluate(int row) {
        ensureRows(1);
        bufferFirst[0] = 0;
        int who = visits.person[row];
        row(row, who != Names.NONE && fit.persons ? fit.personMean[who] : 0, 0);
    }

    /** The expected square of the row's residual, in units of its noise. */
    double rowSquare() {
        return rowSquare;
    }

    /** Adds the evaluated row's design to a square (lower triangle) and to a right-hand side. */
    void addDesign(double times, double[] square, double excess, double[] right) {
        int width = layout.width;
        for (int i = 0; i < touchedCount; i++) {
            int a = touched[i];
            right[a] += excess * accumulated[a];
            for (int j = 0; j <= i; j++) {
                int b = touched[j];
                square[a >= b ? a * width + b : b * width + a] += times * accumulated[a] * accumulated[b];
            }
        }
    }

    /** Evaluates a row as if nothing were known of its person. */
    void residual(int row) {
        ensureRows(1);
        bufferFirst[0] = 0;
        row(row, 0, 0);
    }

    double rowSlope() {
        return rowSlope;
    }

    double rowPrecision() {
        return rowPrecision;
    }

    void add(Pass other) {
        arrow.add(other.arrow);
        logLikelihood += other.logLikelihood;
        weight += other.weight;
        for (int c = 0; c < classWeight.length; c++) {
            classWeight[c] += other.classWeight[c];
            classSquares[c] += other.classSquares[c];
        }
        stubbornWeight += other.stubbornWeight;
        stubbornPrecision += other.stubbornPrecision;
        stubbornFirst += other.stubbornFirst;
        stubbornSquare += other.stubbornSquare;
        personScore += other.personScore;
        personInformation += other.personInformation;
        persons += other.persons;
    }
}
