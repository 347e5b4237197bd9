package org.earslot.flow;

import java.util.ArrayList;
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
final class Law {

    /** Cells within which two times are the same. */
    static final double SAME = 1e-9;
    /** Parts kept apart for their edges; of more the slightest are joined. */
    private static final int MOST_PARTS = 3;

    private static final double[] NONE = {};
    /** A mass stands out that is so many times those beside it, and so much more. */
    private static final double STANDS_OUT = 3;

    private static final double LEAST_OUT = 0.005;

    /** Ascending. */
    private final double[] at;

    private final double[] chance;
    private final List<Smooth> parts;
    private final double total;

    Law(double[] at, double[] chance, List<Smooth> parts, double total) {
        this.at = at;
        this.chance = chance;
        this.parts = parts;
        this.total = total;
    }

    static Law sure(double cells) {
        return new Law(new double[] {cells}, new double[] {1}, List.of(), 1);
    }

    static Law of(Smooth smooth) {
        return new Law(NONE, NONE, List.of(smooth), smooth.sum());
    }

    /**
     * A distribution known on the points of the grid alone: its masses stand for a density, but what stands out from its
     * neighbours, on one point or two, for a time with a chance of its own.
     */
    static Law of(Mass mass) {
        if (mass.p.length <= 2) {
            return sure(mass.mean());
        }
        double[] p = mass.p.clone();
        OwnTimes points = new OwnTimes();
        for (int i = 0; i < p.length; i++) {
            double before = i == 0 ? 0 : p[i - 1];
            double next = i + 1 < p.length ? p[i + 1] : 0;
            double after = i + 2 < p.length ? p[i + 2] : 0;
            if (p[i] > STANDS_OUT * Math.max(before, next) + LEAST_OUT) {
                double base = (before + next) / 2;
                points.add(mass.first + i, p[i] - base);
                p[i] = base;
            } else if (p[i] + next > 2 * STANDS_OUT * Math.max(before, after) + LEAST_OUT) {
                double base = (before + after) / 2;
                double mine = Math.max(0, p[i] - base);
                double others = Math.max(0, next - base);
                points.add(mass.first + i + others / (mine + others), mine + others);
                p[i] -= mine;
                p[i + 1] -= others;
            }
        }
        return points.law(List.of(Smooth.fading(mass.first, p)), 1);
    }

    boolean isSure() {
        return parts.isEmpty() && at.length == 1;
    }

    double sureAt() {
        return at[0];
    }

    double mean() {
        if (isSure()) {
            return at[0];
        }
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += at[i] * chance[i];
        }
        for (Smooth each : parts) {
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
        for (Smooth each : parts) {
            sum += each.upTo(x);
        }
        return sum / total;
    }

    /** P(T > x). */
    double above(double x) {
        return Math.max(0, 1 - upTo(x));
    }

    /** E[(T - x)+] in cells. */
    double excess(double x) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += chance[i] * Math.max(0, at[i] - x);
        }
        for (Smooth each : parts) {
            sum += each.excess(Math.max(x, each.start())) + each.sum() * Math.max(0, each.start() - x);
        }
        return sum / total;
    }

    /** E[f(T)]. @param f straight or smooth between points */
    double expect(DoubleUnaryOperator f) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += chance[i] * f.applyAsDouble(at[i]);
        }
        for (Smooth each : parts) {
            double[] weighted = each.weighted();
            for (int i = 0; i < weighted.length; i++) {
                sum += weighted[i] == 0 ? 0 : weighted[i] * f.applyAsDouble(each.first + i);
            }
        }
        return sum / total;
    }

    /** P(T > other + by), the two independent. */
    double exceeds(Law other, double by) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            sum += chance[i] * other.upTo(at[i] - by - 3 * SAME);
        }
        for (Smooth each : parts) {
            double all = each.sum();
            sum += other.expect(x -> all - each.upTo(x + by));
        }
        return Math.max(0, Math.min(1, sum / total));
    }

    double earliest() {
        double least = at.length == 0 ? Double.POSITIVE_INFINITY : at[0];
        for (Smooth each : parts) {
            least = Math.min(least, each.start());
        }
        return least;
    }

    double latest() {
        double most = at.length == 0 ? Double.NEGATIVE_INFINITY : at[at.length - 1];
        for (Smooth each : parts) {
            most = Math.max(most, each.last() + 1);
        }
        return most;
    }

    /** The smallest t with P(T <= t) at least {@code probability}. */
    double quantile(double probability) {
        double low = earliest();
        double high = latest();
        if (upTo(low) >= probability) {
            return low;
        }
        while (high - low > 1) {
            double middle = Math.floor((low + high) / 2);
            middle = middle <= low ? low + (high - low) / 2 : middle;
            if (upTo(middle) >= probability) {
                high = middle;
            } else {
                low = middle;
            }
        }
        for (double each : at) {
            if (each > low + SAME && each <= high + SAME) {
                if (upTo(each) < probability) {
                    low = each;
                } else {
                    return upTo(each - 2 * SAME) < probability ? each : crossing(low, each - 2 * SAME, probability);
                }
            }
        }
        return crossing(low, high, probability);
    }

    /** In an interval without times of their own chance. */
    private double crossing(double from, double to, double probability) {
        double low = from;
        double high = to;
        double below = upTo(low) - probability;
        double above = upTo(high) - probability;
        for (int i = 0; i < 50 && high - low > 1e-6 && above > 1e-12; i++) {
            double guess = i % 3 == 2 ? (low + high) / 2 : low + (high - low) * -below / (above - below);
            double there = upTo(guess) - probability;
            if (Math.abs(there) < 1e-9) {
                return guess;
            }
            if (there >= 0) {
                high = guess;
                above = there;
            } else {
                low = guess;
                below = there;
            }
        }
        return high;
    }

    Law later(double cells) {
        if (cells == 0) {
            return this;
        }
        double[] moved = at.clone();
        for (int i = 0; i < moved.length; i++) {
            moved[i] += cells;
        }
        return new Law(
                moved, chance, parts.stream().map(each -> each.later(cells)).toList(), total);
    }

    /** The sum of two independent times. */
    Law plus(Law other) {
        if (other.isSure()) {
            return later(other.at[0]);
        }
        if (isSure()) {
            return other.later(at[0]);
        }
        DensitySum sum = new DensitySum();
        Smooth mine = joined();
        Smooth others = other.joined();
        if (mine != null && others != null) {
            double[] a = mine.p;
            double[] b = others.p;
            sum.take(mine.first + others.first, a.length <= b.length ? Convolution.of(a, b) : Convolution.of(b, a));
        }
        List<Smooth> edged = new ArrayList<>();
        moved(sum, edged, other);
        other.moved(sum, edged, this);
        OwnTimes points = new OwnTimes();
        for (int i = 0; i < at.length; i++) {
            for (int j = 0; j < other.at.length; j++) {
                points.add(at[i] + other.at[j], chance[i] * other.chance[j]);
            }
        }
        return points.law(with(edged, sum), total * other.total);
    }

    private void moved(DensitySum sum, List<Smooth> edged, Law other) {
        for (int i = 0; i < at.length; i++) {
            for (Smooth each : other.parts) {
                Smooth there = each.later(at[i]);
                if (there.begins()) {
                    edged.add(there.times(chance[i]));
                } else {
                    sum.add(there.first, there.p, chance[i]);
                }
            }
        }
    }

    private static List<Smooth> with(List<Smooth> edged, DensitySum fading) {
        if (edged.isEmpty()) {
            return fading.parts();
        }
        edged.addAll(fading.parts());
        return united(edged);
    }

    /** All that has a density as masses at the points, edges weighted away. */
    private @Nullable Smooth joined() {
        if (parts.isEmpty()) {
            return null;
        }
        if (parts.size() == 1 && !parts.get(0).begins()) {
            return parts.get(0);
        }
        DensitySum sum = new DensitySum();
        parts.forEach(each -> sum.add(each.first, each.weighted(), 1));
        return sum.parts().get(0);
    }

    /** max(T, cells) of a time and a certain one. */
    Law noEarlierThan(double cells) {
        if (cells <= earliest()) {
            return this;
        }
        if (cells >= latest()) {
            return sure(cells);
        }
        OwnTimes points = new OwnTimes();
        List<Smooth> later = new ArrayList<>();
        double sum = beyond(cells, points, later);
        points.add(cells, total - sum);
        return points.law(united(later), total);
    }

    /** What is later than {@code cells}; answers its chance. */
    private double beyond(double cells, OwnTimes points, List<Smooth> later) {
        double sum = 0;
        for (int i = 0; i < at.length; i++) {
            if (at[i] > cells + SAME) {
                points.add(at[i], chance[i]);
                sum += chance[i];
            }
        }
        for (Smooth each : parts) {
            Smooth left = each.beyond(cells);
            if (left != null) {
                later.add(left);
                sum += left.sum();
            }
        }
        return sum;
    }

    /**
     * The later of an independent time and of this, and no earlier than {@code floor}: F(x) = F_this(x) F_other(x) from
     * the floor on, taken apart by what each consists of.
     */
    Law laterOf(Law other, double floor) {
        if (other.isSure() || other.latest() <= floor) {
            return noEarlierThan(other.isSure() ? Math.max(floor, other.at[0]) : floor);
        }
        OwnTimes points = new OwnTimes();
        List<Smooth> later = new ArrayList<>();
        for (int i = 0; i < at.length; i++) {
            double from = Math.max(at[i], floor);
            for (int j = 0; j < other.at.length; j++) {
                points.add(Math.max(from, other.at[j]), chance[i] * other.chance[j]);
            }
            other.after(from, chance[i], points, later);
        }
        for (int j = 0; j < other.at.length; j++) {
            after(Math.max(other.at[j], floor), other.chance[j], points, later);
        }
        for (Smooth mine : parts) {
            for (Smooth others : other.parts) {
                points.add(floor, mine.upTo(floor) * others.upTo(floor));
                later.add(mine.laterOf(others, floor));
            }
        }
        double sum = points.sum();
        for (Smooth each : later) {
            sum += each.sum();
        }
        return points.law(united(later), sum);
    }

    /** What has a density, no earlier than {@code from}, with a chance {@code share}. */
    private void after(double from, double share, OwnTimes points, List<Smooth> later) {
        for (Smooth each : parts) {
            points.add(from, share * each.upTo(from));
            Smooth left = each.beyond(from);
            if (left != null) {
                later.add(left.times(share));
            }
        }
    }

    /** T given that T is later than {@code cells}; sure at {@code cells} where hardly any chance of that is left. */
    Law given(double cells) {
        if (cells < earliest()) {
            return this;
        }
        if (above(cells) < 1e-6) {
            return sure(cells);
        }
        OwnTimes points = new OwnTimes();
        List<Smooth> later = new ArrayList<>();
        double sum = beyond(cells, points, later);
        return sum <= 0 ? sure(cells) : points.law(united(later), sum);
    }

    /** A time that is {@code a} with chance {@code weight}, else {@code b}. */
    static Law either(double weight, Law a, Law b) {
        if (weight >= 1) {
            return a;
        }
        return weight <= 0 ? b : mixed(List.of(weight, 1 - weight), List.of(a, b));
    }

    static Law mixed(List<Double> weights, List<Law> laws) {
        if (laws.size() == 1) {
            return laws.get(0);
        }
        double all = 0;
        for (double each : weights) {
            all += each;
        }
        OwnTimes points = new OwnTimes();
        DensitySum fading = new DensitySum();
        List<Smooth> edged = new ArrayList<>();
        for (int k = 0; k < laws.size(); k++) {
            Law law = laws.get(k);
            double weight = weights.get(k) / all / law.total;
            for (int i = 0; i < law.at.length; i++) {
                points.add(law.at[i], weight * law.chance[i]);
            }
            for (Smooth each : law.parts) {
                if (each.begins()) {
                    edged.add(each.times(weight));
                } else {
                    fading.add(each.first, each.p, weight);
                }
            }
        }
        return points.law(with(edged, fading), 1);
    }

    /** Densities with the same edge, and all that fade, summed; of too many edges the slightest are weighted away. */
    private static List<Smooth> united(List<Smooth> parts) {
        if (parts.size() < 2) {
            return parts;
        }
        List<Smooth> left = new ArrayList<>(parts);
        List<Smooth> united = new ArrayList<>();
        DensitySum fading = new DensitySum();
        while (!left.isEmpty()) {
            Smooth next = left.remove(0);
            if (!next.begins()) {
                fading.add(next.first, next.p, 1);
                continue;
            }
            DensitySum same = new DensitySum();
            same.add(next.first, next.p, 1);
            left.removeIf(each -> each.begins() && Math.abs(each.edge - next.edge) <= SAME && same.add(each));
            united.add(Smooth.from(next.edge, same.values()));
        }
        united.sort((a, b) -> Double.compare(b.sum(), a.sum()));
        while (united.size() > MOST_PARTS) {
            Smooth slight = united.remove(united.size() - 1);
            fading.add(slight.first, slight.weighted(), 1);
        }
        united.addAll(fading.parts());
        return united;
    }

    /** On the points of the grid, each time with a chance of its own between its neighbours. */
    Mass lattice() {
        if (isSure()) {
            return Mass.sure(at[0]);
        }
        DensitySum sum = new DensitySum();
        parts.forEach(each -> sum.add(each.first, each.weighted(), 1));
        for (int i = 0; i < at.length; i++) {
            Mass one = Mass.sure(at[i]);
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
        return Mass.of(sum.first, masses);
    }
}
