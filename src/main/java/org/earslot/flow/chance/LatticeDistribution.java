package org.earslot.flow.chance;

import java.util.Arrays;

/**
 * The distribution of a time as probability mass on the points of a grid: {@code p[i]} lies at cell {@code first + i},
 * in units of the grid's step. Immutable; masses sum to 1 but for rounding.
 *
 * <p>A time off the grid is split between its two neighbours so that the mean is kept; the excess E[(T - x)+] is then
 * exact at grid points. Between and at grid points a distribution function is read with half of a point's own mass,
 * which errs by the square of the step; a time that is {@code sure} is kept beside its mass and read exactly.
 */
public final class LatticeDistribution {

    /** What is cut off either tail; it is laid on the last cell kept. */
    private static final double TAIL = 1e-6;

    /** The cell of the first mass. */
    public final int first;
    /** The masses from {@link #first} on, each at least 0, together one; not to be written to. */
    public final double[] p;
    /** The time itself where it is certain, else NaN. */
    final double sure;

    private LatticeDistribution(int first, double[] p, double sure) {
        this.first = first;
        this.p = p;
        this.sure = sure;
    }

    /**
     * The masses {@code p} at {@code first}, {@code first} + 1 ... cells; negligible tails join the outermost cells. The array is
     * taken over, not copied.
     */
    public static LatticeDistribution of(int first, double[] p) {
        int from = 0;
        int to = p.length;
        double low = 0;
        while (from < to - 1 && low + p[from] < TAIL) {
            low += p[from++];
        }
        double high = 0;
        while (to > from + 1 && high + p[to - 1] < TAIL) {
            high += p[--to];
        }
        double[] kept = from == 0 && to == p.length ? p : Arrays.copyOfRange(p, from, to);
        kept[0] += low;
        kept[kept.length - 1] += high;
        return new LatticeDistribution(first + from, kept, Double.NaN);
    }

    /** All mass at {@code cells}, shared by the two cells beside it so that the mean is exact. */
    public static LatticeDistribution sure(double cells) {
        int below = (int) Math.floor(cells);
        double above = cells - below;
        double[] p = above == 0 ? new double[] {1} : new double[] {1 - above, above};
        return new LatticeDistribution(below, p, cells);
    }

    boolean isSure() {
        return !Double.isNaN(sure);
    }

    /** The last cell with a mass. */
    public int last() {
        return first + p.length - 1;
    }

    /** The mean, in cells. */
    public double mean() {
        if (isSure()) {
            return sure;
        }
        double sum = 0;
        double total = 0;
        for (int i = 0; i < p.length; i++) {
            sum += i * p[i];
            total += p[i];
        }
        return first + sum / total;
    }

    /** P(T > x), with half of the mass at x itself where T is not sure. */
    public double above(double x) {
        if (isSure()) {
            return sure > x ? 1 : 0;
        }
        int cell = (int) Math.floor(x);
        double part = x - cell;
        double beyond = 0;
        for (int i = Math.max(0, cell + 2 - first); i < p.length; i++) {
            beyond += p[i];
        }
        double here = massAt(cell);
        double next = massAt(cell + 1);
        return beyond + next - part * next / 2 + (1 - part) * here / 2;
    }

    /** E[(T - x)+] in cells. */
    public double excess(double x) {
        if (isSure()) {
            return Math.max(0, sure - x);
        }
        double sum = 0;
        for (int i = Math.max(0, (int) Math.floor(x) + 1 - first); i < p.length; i++) {
            sum += p[i] * (first + i - x);
        }
        return sum;
    }

    double massAt(int cell) {
        int i = cell - first;
        return i < 0 || i >= p.length ? 0 : p[i];
    }

    /** The same, {@code cells} later; a fraction is shared by two cells. */
    public LatticeDistribution later(double cells) {
        if (isSure()) {
            return sure(sure + cells);
        }
        int whole = (int) Math.floor(cells);
        double part = cells - whole;
        if (part == 0) {
            return new LatticeDistribution(first + whole, p, Double.NaN);
        }
        double[] moved = new double[p.length + 1];
        for (int i = 0; i < p.length; i++) {
            moved[i] += (1 - part) * p[i];
            moved[i + 1] += part * p[i];
        }
        return new LatticeDistribution(first + whole, moved, Double.NaN);
    }

    /** The sum of two independent times. */
    public LatticeDistribution plus(LatticeDistribution other) {
        if (other.isSure()) {
            return later(other.sure);
        }
        if (isSure()) {
            return other.later(sure);
        }
        return p.length <= other.p.length ? convolve(this, other) : convolve(other, this);
    }

    private static LatticeDistribution convolve(LatticeDistribution few, LatticeDistribution many) {
        return of(few.first + many.first, Convolution.of(few.p, many.p));
    }

    /** max(T, cells) of a time and a certain one. */
    public LatticeDistribution noEarlierThan(double cells) {
        if (isSure()) {
            return sure >= cells ? this : sure(cells);
        }
        if (cells <= first) {
            return this;
        }
        if (cells >= last()) {
            return sure(cells);
        }
        int floor = (int) Math.floor(cells);
        double part = cells - floor;
        double[] kept = new double[last() - floor + 1];
        double below = 0;
        for (int i = 0; i <= floor - first; i++) {
            below += p[i];
        }
        System.arraycopy(p, floor - first + 1, kept, 1, kept.length - 1);
        kept[0] = (1 - part) * below;
        kept[1] += part * below;
        return new LatticeDistribution(floor, kept, Double.NaN);
    }

    /** The later of two independent times: the product of their distribution functions. */
    public LatticeDistribution laterOf(LatticeDistribution other) {
        if (other.isSure()) {
            return noEarlierThan(other.sure);
        }
        if (isSure()) {
            return other.noEarlierThan(sure);
        }
        int from = Math.max(first, other.first);
        int to = Math.max(last(), other.last());
        double[] product = new double[to - from + 1];
        double mine = upTo(from - 1);
        double others = other.upTo(from - 1);
        double before = 0;
        for (int cell = from; cell <= to; cell++) {
            mine += massAt(cell);
            others += other.massAt(cell);
            double both = mine * others;
            product[cell - from] = both - before;
            before = both;
        }
        return of(from, product);
    }

    boolean isBefore(int cell) {
        return last() < cell;
    }

    /** P(T <= cell). */
    double upTo(int cell) {
        double sum = 0;
        for (int i = 0; i < p.length && first + i <= cell; i++) {
            sum += p[i];
        }
        return sum;
    }

    /** A time that is {@code a} with chance {@code weight}, else {@code b}. */
    public static LatticeDistribution either(double weight, LatticeDistribution a, LatticeDistribution b) {
        if (weight >= 1) {
            return a;
        }
        if (weight <= 0 || (a.isSure() && a.sure == b.sure)) {
            return b;
        }
        int from = Math.min(a.first, b.first);
        double[] sum = new double[Math.max(a.last(), b.last()) - from + 1];
        a.addTo(sum, from, weight);
        b.addTo(sum, from, 1 - weight);
        return new LatticeDistribution(from, sum, Double.NaN);
    }

    void addTo(double[] sum, int from, double weight) {
        for (int i = 0; i < p.length; i++) {
            sum[first - from + i] += weight * p[i];
        }
    }
}
