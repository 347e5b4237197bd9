package org.earslot.flow.chance;

import java.util.Arrays;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * The part of a time's distribution that has a density: {@code p[i]} is the density at cell {@code first + i}, in
 * chances a cell. Immutable.
 *
 * <p>Either it fades to 0 before {@code first}, or it begins with a jump at {@code edge}, inside the cell of {@code
 * first}; {@code p[0]} is then what the density would be there. Integrals are those of a cubic through four points (a
 * parabola through three in the cell of an edge): they err by the fourth power of the step where the density is smooth.
 */
public final class ContinuousPart {

    /** What is cut off either end. */
    public static final double TAIL = 5e-7;
    /** Points that a cubic needs. */
    private static final int FEWEST = 4;

    final int first;
    final double[] p;
    /** Where it begins with a jump, else NaN. */
    final double edge;

    private double sum = Double.NaN;
    private double @Nullable [] weighted;
    private double @Nullable [] upTo;
    /** How many of them are known, and what lies on the points before those. */
    private int summed;

    private double before;
    private double @Nullable [] beyond;

    private ContinuousPart(int first, double[] p, double edge) {
        this.first = first;
        this.p = p.length < FEWEST ? Arrays.copyOf(p, FEWEST) : p;
        this.edge = edge;
    }

    /**
     * A density that fades at both ends.
     *
     * @param p kept, not copied
     */
    static ContinuousPart fading(int first, double[] p) {
        return fading(first, p, TAIL);
    }

    /** @param tail what may be cut off either end */
    static ContinuousPart fading(int first, double[] p, double tail) {
        int from = 0;
        double low = 0;
        while (from < p.length - 1 && low + Math.abs(p[from]) < tail) {
            low += p[from++];
        }
        double[] kept = kept(p, from, tail);
        kept[0] += low;
        return new ContinuousPart(first + from, kept, Double.NaN);
    }

    /** A density that begins at {@code edge}; {@code p[0]} lies at the cell of the edge. */
    static ContinuousPart from(double edge, double[] p) {
        return new ContinuousPart(cell(edge), kept(p, 0, TAIL), edge);
    }

    /** The cell a point lies in; a point a hair below the next one belongs to that. */
    static int cell(double x) {
        return (int) Math.floor(x + 1e-9);
    }

    /** What is cut off lies on the last point kept, so that many sums lose nothing. */
    private static double[] kept(double[] p, int from, double tail) {
        int to = p.length;
        double high = 0;
        while (to > from + 1 && Math.abs(high + p[to - 1]) < tail) {
            high += p[--to];
        }
        double[] kept = from == 0 && to == p.length ? p : Arrays.copyOfRange(p, from, to);
        kept[kept.length - 1] += high;
        return kept;
    }

    boolean begins() {
        return !Double.isNaN(edge);
    }

    double start() {
        return begins() ? edge : first;
    }

    int last() {
        return first + p.length - 1;
    }

    double density(int cell) {
        int i = cell - first;
        return i < 0 || i >= p.length ? 0 : p[i];
    }

    /** Its whole chance. */
    double sum() {
        if (Double.isNaN(sum)) {
            sum = sumOf(weighted());
        }
        return sum;
    }

    /** Four at a time: each addition would wait for the one before it. */
    private static double sumOf(double[] row) {
        double a = 0;
        double b = 0;
        double c = 0;
        double d = 0;
        int i = 0;
        for (; i + 3 < row.length; i += 4) {
            a += row[i];
            b += row[i + 1];
            c += row[i + 2];
            d += row[i + 3];
        }
        for (; i < row.length; i++) {
            a += row[i];
        }
        return a + b + (c + d);
    }

    /** P(at most x). */
    double upTo(double x) {
        if (x <= start()) {
            return 0;
        }
        int i = cell(x) - first;
        if (i < 0 || i >= p.length) {
            return i < 0 ? 0 : upToPoint(p.length);
        }
        double t = Math.max(0, x - first - i);
        if (t == 0) {
            return upToPoint(i);
        }
        double after = upToPoint(i + 1);
        return hermite(t, upToPoint(i), after, Math.max(0, p[i]), Math.max(0, density(first + i + 1)));
    }

    /** E[(T - x)+], times its chance. */
    double excess(double x) {
        double[] left = beyondEach();
        if (x < first) {
            return left[0] + sum() * (first - x);
        }
        int i = cell(x) - first;
        if (i >= p.length) {
            return 0;
        }
        double t = Math.max(0, x - first - i);
        if (t == 0) {
            return left[i];
        }
        double[] sums = upToEach();
        double all = sums[p.length];
        return hermite(t, left[i], left[i + 1], sums[i] - all, sums[i + 1] - all);
    }

    /** E[T], times its chance. */
    double moment() {
        double[] weighted = weighted();
        double sum = 0;
        for (int i = 0; i < weighted.length; i++) {
            sum += i * weighted[i];
        }
        return sum + first * sum();
    }

    private static double hermite(double t, double y0, double y1, double slope0, double slope1) {
        double u = 1 - t;
        return u * u * (1 + 2 * t) * y0 + t * t * (3 - 2 * t) * y1 + t * u * (u * slope0 - t * slope1);
    }

    /** The integral up to each point, and as the last entry the whole. Negative before an edge. */
    private double[] upToEach() {
        upToPoint(p.length);
        return Objects.requireNonNull(upTo);
    }

    /** The integral up to point {@code i}; the first few are often all that is asked for. */
    private double upToPoint(int i) {
        double[] sums = upTo;
        if (sums == null) {
            sums = new double[p.length + 1];
            upTo = sums;
            if (begins()) {
                beginAtEdge(sums);
            }
        }
        if (i >= summed) {
            sumUp(sums, i);
        }
        return sums[i];
    }

    private void beginAtEdge(double[] sums) {
        double[] masses = weighted();
        double[] weights = startWeights(Math.max(0, edge - first));
        sums[1] = weights[0] * p[0] + weights[1] * p[1] + weights[2] * p[2];
        sums[0] = sums[1] - (5 * p[0] + 8 * p[1] - p[2]) / 12;
        sums[2] = sums[1] + (13 * (p[1] + p[2]) - p[0] - p[3]) / 24;
        summed = 3;
        before = masses[0] + masses[1] + masses[2];
    }

    private void sumUp(double[] sums, int to) {
        double[] masses = weighted();
        int n = p.length;
        double all = before;
        int i = summed;
        if (i == 0) {
            sums[0] = p[0] / 2 - p[1] / 24;
            all = masses[0];
            i = 1;
        }
        for (int end = Math.min(to, n - 2); i <= end; i++) {
            sums[i] = all + p[i] / 2 + (p[i - 1] - p[i + 1]) / 24;
            all += masses[i];
        }
        if (to >= n - 1 && i == n - 1) {
            sums[i] = all + p[i] / 2 + p[i - 1] / 24;
            all += masses[i];
            i++;
        }
        if (to == n && i == n) {
            sums[n] = all;
            i++;
        }
        before = all;
        summed = i;
    }

    private double[] beyondEach() {
        double[] known = beyond;
        if (known == null) {
            double[] sums = upToEach();
            int n = p.length;
            known = new double[n + 1];
            for (int i = n - 1; i >= 0; i--) {
                double survive = sums[n] - sums[i] + sums[n] - sums[i + 1];
                double next = i + 1 < n ? p[i + 1] : 0;
                known[i] = known[i + 1] + survive / 2 + (next - p[i]) / 12;
            }
            beyond = known;
        }
        return known;
    }

    /** The integral from {@code part} of the first cell to its end, as weights of the first three points. */
    private static double[] startWeights(double part) {
        double square = part * part;
        double cube = square * part;
        return new double[] {
            5 / 12.0 - (cube / 6 - 3 * square / 4 + part),
            2 / 3.0 - square + cube / 3,
            -1 / 12.0 - cube / 6 + square / 4
        };
    }

    /** Masses at the points that give its integral with any smooth function. */
    double[] weighted() {
        if (!begins()) {
            return p;
        }
        double[] known = weighted;
        if (known == null) {
            known = p.clone();
            double[] weights = startWeights(Math.max(0, edge - first));
            known[0] *= weights[0] - 1 / 24.0;
            known[1] *= weights[1] + 1 / 2.0;
            known[2] *= weights[2] + 25 / 24.0;
            weighted = known;
        }
        return known;
    }

    /** The same as masses at the points, its edge weighted away. */
    ContinuousPart unedged() {
        return begins() ? new ContinuousPart(first, weighted(), Double.NaN) : this;
    }

    /** What of it is beyond {@code x}; null where nothing is. */
    @Nullable
    ContinuousPart beyond(double x) {
        if (x <= start() + 1e-9) {
            return this;
        }
        int cell = cell(x);
        if (cell >= last()) {
            return null;
        }
        return from(x, Arrays.copyOfRange(p, cell - first, p.length));
    }

    /** The density of the later of two independent times, from {@code floor} on. */
    ContinuousPart laterOf(ContinuousPart other, double floor) {
        double from = floor;
        from = begins() ? Math.max(from, edge) : from;
        from = other.begins() ? Math.max(from, other.edge) : from;
        int cell = cell(from);
        int count = Math.max(0, Math.max(last(), other.last()) - cell) + 2;
        double[] density = new double[count];
        int begin = Math.max(0, first - cell);
        int end = Math.min(count, last() + 1 - cell);
        if (end > begin) {
            System.arraycopy(p, cell + begin - first, density, begin, end - begin);
        }
        // Behind the other's last point only its whole chance is left to multiply with.
        int both = Math.max(0, Math.min(count, other.last() + 1 - cell));
        sumTo(cell + both);
        for (int i = 0; i < both; i++) {
            density[i] = density[i] * other.sumTo(cell + i) + sumTo(cell + i) * other.density(cell + i);
        }
        double all = other.sum();
        for (int i = both; i < count; i++) {
            density[i] *= all;
        }
        return from(from, density);
    }

    private double sumTo(int cell) {
        return cell < first ? 0 : upToPoint(Math.min(cell - first, p.length));
    }

    /** Of a time that comes so much later; between points by a cubic. */
    ContinuousPart later(double cells) {
        int whole = cell(cells);
        double part = Math.max(0, cells - whole);
        if (part < 1e-9) {
            ContinuousPart moved = new ContinuousPart(first + whole, p, begins() ? edge + cells : edge);
            moved.sum = sum;
            moved.weighted = weighted;
            moved.upTo = upTo;
            moved.summed = summed;
            moved.before = before;
            moved.beyond = beyond;
            return moved;
        }
        double then = edge + cells;
        int from = begins() ? cell(then) : first + whole - 1;
        double[] moved = new double[first + whole + p.length + 2 - from];
        for (int i = 0; i < moved.length; i++) {
            moved[i] = at(from + i - cells - first);
        }
        if (!begins()) {
            return fading(from, moved);
        }
        ContinuousPart there = from(then, moved);
        return there.times(sum() / there.sum());
    }

    /** The density between points, {@code u} cells after the first. */
    private double at(double u) {
        int i = (int) Math.floor(u) - 1;
        if (begins()) {
            i = Math.max(0, i);
        }
        double t = u - i - 1;
        double a = point(i);
        double b = point(i + 1);
        double c = point(i + 2);
        double d = point(i + 3);
        return -t * (t - 1) * (t - 2) / 6 * a
                + (t + 1) * (t - 1) * (t - 2) / 2 * b
                - (t + 1) * t * (t - 2) / 2 * c
                + (t + 1) * t * (t - 1) / 6 * d;
    }

    private double point(int i) {
        return i < 0 || i >= p.length ? 0 : p[i];
    }

    ContinuousPart times(double factor) {
        if (factor == 1) {
            return this;
        }
        double[] scaled = new double[p.length];
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] = factor * p[i];
        }
        return new ContinuousPart(first, scaled, edge);
    }
}
