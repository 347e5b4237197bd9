package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Gradient;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.table.Names;

/**
 * One walk over a chunk of the past visits, person by person: the sums that a Gauss-Newton step needs, and those of the
 * variance sizes. Owned by one thread.
 *
 * <p>A person's own log factor is eliminated as one goes: with gradient G and precision P of it, every row's slope g
 * becomes g - W G / P, and the rows' precision loses the outer product of their weighted designs over P, taken for each
 * group of the person apart so that groups do not meet.
 */
final class Sweep {

    /** A person's visits say at least this share of what they would if nothing about them were hidden. */
    private static final double LEAST_INFORMATION = 0.1;

    private final Fit fit;
    private final double[] personMean;
    private final double[] personPrecision;
    private final PastVisits visits;
    private final Layout layout;

    final SweepAccumulator sums;
    private final RowStep step;

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
    private final Gradient cluster;

    /** @param personMean takes the next factor of each person met, {@code personPrecision} how sure it is */
    Sweep(Fit fit, double[] personMean, double[] personPrecision) {
        this.fit = fit;
        this.personMean = personMean;
        this.personPrecision = personPrecision;
        visits = fit.visits;
        layout = fit.layout;
        sums = new SweepAccumulator(fit);
        step = new RowStep(fit, sums);
        cluster = new Gradient(layout);
    }

    /** Rows from one place to another of the fit's order by person; both at borders between persons. */
    void over(int from, int to) {
        int i = from;
        while (i < to) {
            int who = visits.person[fit.stretch.rows()[i]];
            int end = i + 1;
            while (who != Names.NONE && end < to && visits.person[fit.stretch.rows()[end]] == who) {
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
            row(fit.stretch.rows()[from + r], effect, r);
            sumPrecision += precisions[r];
            sumInformation += step.information;
            sumSlope += slopes[r];
        }
        double shrink = 0;
        double moves = 0;
        double precision = 0;
        if (withEffect) {
            double assumed = 1 / (fit.sizes.person * fit.sizes.person);
            precision = sumPrecision + assumed;
            double slope = sumSlope - effect * assumed;
            shrink = slope / precision;
            moves = Math.max(-0.5, Math.min(0.5, shrink));
            personMean[who] = effect + moves;
            personPrecision[who] = precision;
            sums.logLikelihood -= 0.5 * effect * effect * assumed;
            sizeOfPersons(effect);
        }
        for (int r = 0; r < rows; r++) {
            int row = fit.stretch.rows()[from + r];
            if (withEffect) {
                // The squares of the noise as they are once the person's factor has moved, and what its own doubt adds.
                int in = fit.classOf[row];
                double moved = moved(slopes[r], precisions[r], moves);
                sums.classSquares[in] += fit.sizes.noise[in] * fit.sizes.noise[in] * moved
                        + fit.stretch.weights()[row] / precision;
                sums.outlierFirst -= moves * odds[r];
                sums.outlierSquare += moves * (odds[r] * moves - 2 * oddFirsts[r]);
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
        sums.personScore += pull * pull * v / ((1 + known * v) * (1 + known * v)) - share;
        sums.personInformation += 2 * share * share;
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
            cluster.clear();
            for (int s = r; s < rows; s++) {
                if (rowGroup[s] == group) {
                    outer(s, precisions[s]);
                    gather(s);
                    if (s > r) {
                        rowGroup[s] = Integer.MIN_VALUE;
                    }
                }
            }
            outer(cluster, group, -1 / own);
        }
    }

    private void gather(int r) {
        for (int b = bufferFirst[r]; b < bufferFirst[r + 1]; b++) {
            cluster.add(bufferColumn[b], precisions[r] * bufferValue[b]);
        }
        for (int k = 0; k < cluster.local.length; k++) {
            cluster.local[k] += precisions[r] * locals[r][k];
        }
    }

    private void outer(Gradient of, int group, double times) {
        int width = layout.width;
        double[] fixed = sums.arrow.fixed;
        double[] own = of.local;
        for (int i = 0; i < of.count; i++) {
            int a = of.column[i];
            double va = of.value[a] * times;
            for (int j = 0; j <= i; j++) {
                int b = of.column[j];
                fixed[a >= b ? a * width + b : b * width + a] += va * of.value[b];
            }
            if (group != Names.NONE) {
                double[] joint = sums.arrow.joint[group];
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
        double[] square = sums.arrow.own[group];
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
        double[] fixed = sums.arrow.fixed;
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
                double[] joint = sums.arrow.joint[group];
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
            sums.arrow.right[bufferColumn[b]] -= less * bufferValue[b];
        }
        if (group != Names.NONE) {
            double[] own = sums.arrow.ownRight[group];
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

    private void row(int row, double effect, int r) {
        int group = visits.group[row];
        rowGroup[r] = group;
        visitsGroup[r] = group;
        step.evaluate(row, effect);
        slopes[r] = step.slope;
        precisions[r] = step.precision;
        odds[r] = step.odd;
        oddFirsts[r] = step.oddFirst;
        int at = bufferFirst[r];
        Gradient gradient = step.gradient;
        int count = gradient.count;
        if (at + count > bufferColumn.length) {
            bufferColumn = Arrays.copyOf(bufferColumn, 2 * (at + count));
            bufferValue = Arrays.copyOf(bufferValue, 2 * (at + count));
        }
        for (int i = 0; i < count; i++) {
            bufferColumn[at + i] = gradient.column[i];
            bufferValue[at + i] = gradient.value[gradient.column[i]];
        }
        bufferFirst[r + 1] = at + count;
        if (locals[r] == null) {
            locals[r] = new double[gradient.local.length];
        }
        System.arraycopy(gradient.local, 0, locals[r], 0, gradient.local.length);
    }
}
