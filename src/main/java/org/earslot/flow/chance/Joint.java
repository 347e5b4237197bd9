package org.earslot.flow.chance;

import java.util.Arrays;

/**
 * The joint distribution of a time (when the practitioner is free) and of how much later a second clock runs out (when
 * the other room is ready, or a patient outside is due back). Row r holds excess {@code clip + r} cells of the second
 * clock over the first; row 0 also all smaller ones, where it no longer matters. Immutable.
 *
 * <p>The two clocks depend on each other, so the product of their distribution functions would be wrong.
 */
public final class Joint {

    /** Chance cut off at each end. */
    private static final double TAIL = 1e-7;

    private final int first;
    private final int clip;
    /** [row][cell]. */
    private final double[][] p;

    private Joint(int first, int clip, double[][] p) {
        int rows = p.length;
        double top = 0;
        while (rows > 1 && top + sum(p[rows - 1]) < TAIL) {
            top += sum(p[--rows]);
        }
        int from = 0;
        int to = p[0].length;
        double edge = 0;
        while (from < to - 1 && edge + column(p, from) < TAIL) {
            edge += column(p, from++);
        }
        edge = 0;
        while (to > from + 1 && edge + column(p, to - 1) < TAIL) {
            edge += column(p, --to);
        }
        this.first = first + from;
        this.clip = clip;
        this.p = new double[rows][];
        for (int r = 0; r < rows; r++) {
            this.p[r] = Arrays.copyOfRange(p[r], from, to);
        }
    }

    private static double sum(double[] row) {
        double sum = 0;
        for (double each : row) {
            sum += each;
        }
        return sum;
    }

    private static double column(double[][] p, int i) {
        double sum = 0;
        for (double[] row : p) {
            sum += row[i];
        }
        return sum;
    }

    /**
     * Independent to begin with.
     *
     * @param clip excess (cells, at most 0) below which the second clock is forgotten
     */
    public static Joint starting(LatticeDistribution base, LatticeDistribution excess, int clip) {
        double[][] p = new double[Math.max(1, excess.last() - clip + 1)][base.p.length];
        for (int e = 0; e < excess.p.length; e++) {
            double[] row = p[Math.max(0, excess.first + e - clip)];
            for (int i = 0; i < row.length; i++) {
                row[i] += excess.p[e] * base.p[i];
            }
        }
        return new Joint(base.first, clip, p);
    }

    /** A second clock that no longer matters. */
    public static Joint alone(LatticeDistribution base, int clip) {
        return new Joint(base.first, clip, new double[][] {base.p});
    }

    /** The distribution of the first clock alone. */
    public LatticeDistribution base() {
        double[] sum = new double[p[0].length];
        for (double[] row : p) {
            for (int i = 0; i < sum.length; i++) {
                sum[i] += row[i];
            }
        }
        return LatticeDistribution.of(first, sum);
    }

    /** The later of the two clocks. */
    public LatticeDistribution reach() {
        return swap(LatticeDistribution.sure(0)).base();
    }

    /** P(first clock - second > cells), 0 <= cells < -clip, half of what is equal counted. */
    public double behindBy(double cells) {
        double sum = 0;
        for (int r = 0; r < p.length && clip + r <= -cells; r++) {
            double share = clip + r == -cells ? 0.5 : 1;
            for (double each : p[r]) {
                sum += share * each;
            }
        }
        return sum;
    }

    /** The first clock put to {@code cells} if it is earlier. */
    public Joint noEarlierThan(double cells) {
        return laterOf(LatticeDistribution.sure(cells));
    }

    /** The first clock put to an independent time if it is earlier; the second stays where it is. */
    public Joint laterOf(LatticeDistribution other) {
        LatticeDistribution all = base().laterOf(other);
        int from = Math.max(first, other.first);
        int to = Math.max(Math.max(first + p[0].length - 1, other.last()), all.last());
        from = Math.min(from, all.first);
        double[][] moved = new double[p.length][to - from + 1];
        all.addTo(moved[0], from, 1);
        double[] upTo = new double[to - first + 1];
        double sum = other.isBefore(first) ? 1 : other.upTo(first - 1);
        for (int i = 0; i < upTo.length; i++) {
            sum += other.isBefore(first) ? 0 : other.massAt(first + i);
            upTo[i] = sum;
        }
        for (int r = 1; r < p.length; r++) {
            for (int i = 0; i < p[r].length; i++) {
                if (p[r][i] > 0) {
                    keep(moved, from, r, first + i, p[r][i] * upTo[i]);
                    for (int gap = 1; gap < r; gap++) {
                        keep(moved, from, r - gap, first + i + gap, p[r][i] * other.massAt(first + i + gap));
                    }
                }
            }
        }
        return new Joint(from, clip, nonNegative(moved));
    }

    /** Moves mass laid on row 0 to the row it belongs to. */
    private static void keep(double[][] moved, int from, int row, int cell, double mass) {
        if (mass > 0) {
            moved[row][cell - from] += mass;
            moved[0][cell - from] -= mass;
        }
    }

    private static double[][] nonNegative(double[][] moved) {
        for (int i = 0; i < moved[0].length; i++) {
            moved[0][i] = Math.max(0, moved[0][i]);
        }
        return moved;
    }

    /** The first clock moves on by an independent time of at least 0. */
    public Joint plus(LatticeDistribution time) {
        LatticeDistribution all = base().plus(time);
        int last = Math.max(all.last(), first + p[0].length - 1 + time.last());
        int from = first + time.first;
        double[][] moved = new double[p.length][last - from + 1];
        all.addTo(moved[0], from, 1);
        for (int r = 1; r < p.length; r++) {
            for (int d = 0; d < time.p.length && r - time.first - d >= 1; d++) {
                double[] row = moved[r - time.first - d];
                for (int i = 0; i < p[r].length; i++) {
                    row[i + d] += p[r][i] * time.p[d];
                    moved[0][i + d] -= p[r][i] * time.p[d];
                }
            }
        }
        return new Joint(from, clip, nonNegative(moved));
    }

    /**
     * The practitioner goes over to what the second clock stands for: the first clock becomes the later of the two, the
     * second one what was left behind, ready an independent {@code pending} after the first clock's old time.
     */
    public Joint swap(LatticeDistribution pending) {
        int most = p.length - 1 + clip;
        int reach = Math.max(0, most);
        double[][] moved = new double[Math.max(1, pending.last() - clip + 1)][p[0].length + reach];
        for (int r = 0; r < p.length; r++) {
            int gone = Math.max(0, clip + r);
            for (int c = 0; c < pending.p.length; c++) {
                double[] row = moved[Math.max(0, pending.first + c - gone - clip)];
                for (int i = 0; i < p[r].length; i++) {
                    row[i + gone] += p[r][i] * pending.p[c];
                }
            }
        }
        return new Joint(first, clip, moved);
    }

    /** When both clocks have run out, the first one only {@code pending} after its time. */
    public LatticeDistribution bothOut(LatticeDistribution pending) {
        double[] sum = new double[p[0].length + Math.max(p.length + clip, pending.last()) + 1];
        for (int r = 0; r < p.length; r++) {
            for (int c = 0; c < pending.p.length; c++) {
                int later = Math.max(pending.first + c, clip + r);
                for (int i = 0; i < p[r].length; i++) {
                    sum[i + later] += p[r][i] * pending.p[c];
                }
            }
        }
        return LatticeDistribution.of(first, sum);
    }

    /** The first clock is known to stand at {@code cells}; the second keeps its own time. */
    public Joint knownAt(double cells) {
        int at = (int) Math.round(cells);
        int rows = Math.max(1, first + p[0].length - 1 + p.length - 1 - at + 1);
        double[][] moved = new double[Math.max(p.length, rows)][1];
        for (int r = 0; r < p.length; r++) {
            for (int i = 0; i < p[r].length; i++) {
                int row = r == 0 ? 0 : Math.max(0, r + first + i - at);
                moved[row][0] += p[r][i];
            }
        }
        return new Joint(at, clip, moved);
    }

    /** P(first clock < cells). */
    public double chanceBefore(double cells) {
        return split(cells, true).total();
    }

    /** Given that the first clock is before {@code cells}, or that it is not. */
    public Joint given(boolean before, double cells) {
        Joint part = split(cells, before);
        double total = part.total();
        for (double[] row : part.p) {
            for (int i = 0; i < row.length; i++) {
                row[i] /= total;
            }
        }
        return part;
    }

    /** Not normalised. */
    private Joint split(double cells, boolean before) {
        double[][] part = new double[p.length][p[0].length];
        for (int r = 0; r < p.length; r++) {
            for (int i = 0; i < p[r].length; i++) {
                part[r][i] = first + i < cells == before ? p[r][i] : 0;
            }
        }
        return new Joint(first, clip, part);
    }

    private double total() {
        double sum = 0;
        for (double[] row : p) {
            sum += sum(row);
        }
        return sum;
    }

    /** {@code a} with probability {@code weight}, from 0 to 1, else {@code b}. */
    public static Joint either(double weight, Joint a, Joint b) {
        if (weight >= 1) {
            return a;
        }
        int from = Math.min(a.first, b.first);
        int to = Math.max(a.first + a.p[0].length, b.first + b.p[0].length);
        double[][] sum = new double[Math.max(a.p.length, b.p.length)][to - from];
        a.addTo(sum, from, weight);
        b.addTo(sum, from, 1 - weight);
        return new Joint(from, a.clip, sum);
    }

    private void addTo(double[][] sum, int from, double weight) {
        for (int r = 0; r < p.length; r++) {
            for (int i = 0; i < p[r].length; i++) {
                sum[r][i + first - from] += weight * p[r][i];
            }
        }
    }
}
