package org.earslot.flow.chance;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;

/**
 * The distribution of a time in cells of the grid's step: times that have a chance of their own (a booked start is one,
 * whoever is there being called in then), and the rest, which has a density. Immutable; chances sum to 1 but for
 * rounding and tails of less than a millionth.
 *
 * <p>Times with a chance of their own lie where they are and not on the grid; what is read is therefore the same on
 * grids of different steps but for the fourth power of the step, where no density is steeper than the grid can show.
 */
public final class MixedDistribution {

    /** Cells within which two times are the same. */
    static final double SAME = 1e-9;

    private static final double[] NONE = {};
    /** Ascending: the times with a chance of their own. */
    final double[] at;

    final double[] chance;
    final List<ContinuousPart> parts;
    final double total;

    MixedDistribution(double[] at, double[] chance, List<ContinuousPart> parts, double total) {
        this.at = at;
        this.chance = chance;
        this.parts = parts;
        this.total = total;
    }

    /** Certain: one atom at {@code cells}. */
    public static MixedDistribution sure(double cells) {
        return new MixedDistribution(new double[] {cells}, new double[] {1}, List.of(), 1);
    }

    /** Continuous alone, without an atom. */
    public static MixedDistribution of(ContinuousPart smooth) {
        return new MixedDistribution(NONE, NONE, List.of(smooth), smooth.sum());
    }

    /** A distribution known on the points of the grid alone. */
    public static MixedDistribution of(LatticeDistribution mass) {
        return mass.p.length <= 2 ? sure(mass.mean()) : new LatticeReader(mass).law();
    }

    boolean isSure() {
        return parts.isEmpty() && at.length == 1;
    }

    double sureAt() {
        return at[0];
    }

    /** The mean, in cells. */
    public double mean() {
        if (isSure()) {
            return at[0];
        }
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += at[i] * chance[i];
        }
        for (ContinuousPart each : parts) {
            sum += each.moment();
        }
        return sum / total;
    }

    /** P(T <= x). */
    double upTo(double x) {
        double sum = 0;
        for (int i = 0; i < at.length && at[i] <= x + SAME; i++) {
            sum += chance[i];
        }
        for (ContinuousPart each : parts) {
            sum += each.upTo(x);
        }
        return sum / total;
    }

    /** P(T > x). */
    public double above(double x) {
        return Math.max(0, 1 - upTo(x));
    }

    /** E[(T - x)+] in cells. */
    public double excess(double x) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += chance[i] * Math.max(0, at[i] - x);
        }
        for (ContinuousPart each : parts) {
            sum += each.excess(Math.max(x, each.start())) + each.sum() * Math.max(0, each.start() - x);
        }
        return sum / total;
    }

    /**
     * E[f(T)].
     *
     * @param f straight or smooth between points
     */
    public double expect(DoubleUnaryOperator f) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += chance[i] * f.applyAsDouble(at[i]);
        }
        for (ContinuousPart each : parts) {
            double[] weighted = each.weighted();
            for (int i = 0; i < weighted.length; i++) {
                sum += weighted[i] == 0 ? 0 : weighted[i] * f.applyAsDouble(each.first + i);
            }
        }
        return sum / total;
    }

    /** P(T > other + by), the two independent. */
    public double exceeds(MixedDistribution other, double by) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += chance[i] * other.upTo(at[i] - by - 3 * SAME);
        }
        for (ContinuousPart each : parts) {
            double all = each.sum();
            sum += other.expect(x -> all - each.upTo(x + by));
        }
        return Math.max(0, Math.min(1, sum / total));
    }

    double earliest() {
        double least = at.length == 0 ? Double.POSITIVE_INFINITY : at[0];
        for (ContinuousPart each : parts) {
            least = Math.min(least, each.start());
        }
        return least;
    }

    double latest() {
        double most = at.length == 0 ? Double.NEGATIVE_INFINITY : at[at.length - 1];
        for (ContinuousPart each : parts) {
            most = Math.max(most, each.last() + 1);
        }
        return most;
    }

    /** The same, {@code cells} later. */
    public MixedDistribution later(double cells) {
        if (cells == 0) {
            return this;
        }
        double[] moved = at.clone();
        for (int i = 0; i < moved.length; i++) {
            moved[i] += cells;
        }
        return new MixedDistribution(moved, chance, moved(parts, cells), total);
    }

    private static List<ContinuousPart> moved(List<ContinuousPart> parts, double cells) {
        if (parts.size() == 1) {
            return List.of(parts.get(0).later(cells));
        }
        return parts.stream().map(each -> each.later(cells)).toList();
    }

    /** The sum of two independent times. */
    public MixedDistribution plus(MixedDistribution other) {
        return plus(other, ContinuousPart.TAIL);
    }

    /** @param tail what may be cut off either end */
    public MixedDistribution plus(MixedDistribution other, double tail) {
        return DistributionSum.of(this, other, tail);
    }

    /** All chances so many times as large. */
    MixedDistribution times(double factor) {
        double[] scaled = chance.clone();
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] *= factor;
        }
        List<ContinuousPart> dense =
                parts.stream().map(each -> each.times(factor)).toList();
        return new MixedDistribution(at, scaled, dense, factor * total);
    }

    /** All that has a density as masses at the points, edges weighted away. */
    @Nullable
    ContinuousPart joined() {
        if (parts.size() == 1) {
            return parts.get(0).unedged();
        }
        if (parts.isEmpty()) {
            return null;
        }
        DensitySum sum = new DensitySum();
        parts.forEach(each -> sum.add(each.first, each.weighted(), 1));
        return sum.parts().get(0);
    }

    /** max(T, cells) of a time and a certain one. */
    public MixedDistribution noEarlierThan(double cells) {
        return cells <= earliest() ? this : DistributionMaximum.of(this, cells);
    }

    /** The later of an independent time and of this, and no earlier than {@code floor}. */
    public MixedDistribution laterOf(MixedDistribution other, double floor) {
        return DistributionMaximum.of(this, other, floor);
    }

    /** T given that T is later than {@code cells}; sure at {@code cells} where hardly any chance of that is left. */
    public MixedDistribution given(double cells) {
        return cells < earliest() ? this : DistributionMaximum.given(this, cells);
    }

    /** A time that is {@code a} with chance {@code weight}, else {@code b}. */
    public static MixedDistribution either(double weight, MixedDistribution a, MixedDistribution b) {
        if (weight >= 1) {
            return a;
        }
        return weight <= 0 ? b : mixed(List.of(weight, 1 - weight), List.of(a, b));
    }

    public static MixedDistribution mixed(List<Double> weights, List<MixedDistribution> laws) {
        return laws.size() == 1 ? laws.get(0) : DistributionMixture.of(weights, laws);
    }

    /** On the points of the grid, each time with a chance of its own between its neighbours. */
    public LatticeDistribution lattice() {
        if (isSure()) {
            return LatticeDistribution.sure(at[0]);
        }
        DensitySum sum = new DensitySum();
        parts.forEach(each -> sum.add(each.first, each.weighted(), 1));
        for (int i = 0; i < at.length; i++) {
            LatticeDistribution one = LatticeDistribution.sure(at[i]);
            sum.add(one.first, one.p, chance[i]);
        }
        double[] masses = sum.values();
        double all = 0;
        for (int i = 0; i < masses.length; i++) {
            masses[i] = Math.max(0, masses[i]);
            all += masses[i];
        }
        for (int i = 0; i < masses.length; i++) {
            masses[i] /= all;
        }
        return LatticeDistribution.of(sum.first, masses);
    }
}
