package org.earslot.duration.fit;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.earslot.duration.predict.Cholesky;
import org.earslot.duration.predict.RowSums;

/**
 * A symmetric positive system shaped like an arrow: a dense square for the fixed columns and a small square for each
 * group, each group joined to the fixed columns but to no other group. Solved by eliminating the groups first, so the
 * cost is linear in groups.
 */
final class ArrowheadSystem {

    final int width;
    final int block;
    final int groups;

    /** Lower triangle, row by row. */
    final double[] fixed;

    /** By group: width x block. */
    final double[][] joint;

    /** By group: block x block, lower triangle. */
    final double[][] own;

    final double[] right;
    final double[][] ownRight;

    ArrowheadSystem(int width, int block, int groups) {
        this.width = width;
        this.block = block;
        this.groups = groups;
        fixed = new double[width * width];
        joint = new double[groups][width * block];
        own = new double[groups][block * block];
        right = new double[width];
        ownRight = new double[groups][block];
    }

    void add(ArrowheadSystem other) {
        add(fixed, other.fixed);
        add(right, other.right);
        for (int g = 0; g < groups; g++) {
            add(joint[g], other.joint[g]);
            add(own[g], other.own[g]);
            add(ownRight[g], other.ownRight[g]);
        }
    }

    private static void add(double[] to, double[] from) {
        for (int i = 0; i < to.length; i++) {
            to[i] += from[i];
        }
    }

    /** A width x block square the other way round. */
    private double[][] across(double[] square) {
        double[][] rows = new double[block][width];
        for (int i = 0; i < width; i++) {
            for (int k = 0; k < block; k++) {
                rows[k][i] = square[i * block + k];
            }
        }
        return rows;
    }

    /** The solution, and what the inverse needs. */
    Solved solve() {
        double[][] factors = new double[groups][];
        double[][] pulled = new double[groups][];
        double[][][] across = new double[groups][][];
        double[] schur = fixed.clone();
        double[] rest = right.clone();
        for (int g = 0; g < groups; g++) {
            double[] factor = own[g].clone();
            Cholesky.factor(factor, block);
            factors[g] = factor;
            // Rows of joint, solved: L^-1 joint'.
            double[] half = joint[g].clone();
            double[] halfRight = ownRight[g].clone();
            Cholesky.forward(factor, block, halfRight, 0);
            for (int i = 0; i < width; i++) {
                Cholesky.forward(factor, block, half, i * block);
            }
            pulled[g] = half;
            across[g] = across(half);
            for (int i = 0; i < width; i++) {
                double against = 0;
                for (int k = 0; k < block; k++) {
                    against += half[i * block + k] * halfRight[k];
                }
                rest[i] -= against;
            }
        }
        IntStream rows = IntStream.range(0, width);
        // Spreading little work over threads costs more than it saves.
        boolean much = (long) groups * block * width * width > 20_000_000L;
        (much ? rows.parallel() : rows).forEach(i -> {
            double[] times = new double[block];
            double[] sum = new double[i + 1];
            for (int g = 0; g < groups; g++) {
                for (int k = 0; k < block; k++) {
                    times[k] = -pulled[g][i * block + k];
                }
                Arrays.fill(sum, 0);
                RowSums.subtract(sum, 0, i + 1, times, across[g], 0, block);
                for (int j = 0; j <= i; j++) {
                    schur[i * width + j] -= sum[j];
                }
            }
        });
        boolean sound = Cholesky.factor(schur, width);
        double[] step = rest.clone();
        Cholesky.forward(schur, width, step, 0);
        Cholesky.backward(schur, width, step, 0);
        double[][] ownStep = new double[groups][];
        for (int g = 0; g < groups; g++) {
            double[] mine = ownRight[g].clone();
            for (int i = 0; i < width; i++) {
                for (int k = 0; k < block; k++) {
                    mine[k] -= joint[g][i * block + k] * step[i];
                }
            }
            Cholesky.forward(factors[g], block, mine, 0);
            Cholesky.backward(factors[g], block, mine, 0);
            ownStep[g] = mine;
        }
        return new Solved(this, schur, factors, pulled, step, ownStep, sound);
    }

    /**
     * A solved arrow.
     *
     * @param schur Cholesky factor of the fixed square after elimination
     * @param factors Cholesky factors of the groups' squares
     * @param pulled L^-1 joint' by group, width x block
     * @param step the solution in the fixed columns
     * @param ownStep the solution in the groups' columns
     * @param sound whether every pivot was positive
     */
    record Solved(
            ArrowheadSystem arrow,
            double[] schur,
            double[][] factors,
            double[][] pulled,
            double[] step,
            double[][] ownStep,
            boolean sound) {

        /** The inverse in the fixed columns, dense. */
        double[] covariance() {
            return Cholesky.inverse(schur, arrow.width);
        }

        /**
         * The inverse between the fixed columns and each group's: width x block; and the group's own: block x block.
         *
         * @param covariance as {@link #covariance} gives it
         */
        double[][][] ofGroups(double[] covariance) {
            int width = arrow.width;
            double[][] rows = new double[width][];
            for (int i = 0; i < width; i++) {
                rows[i] = Arrays.copyOfRange(covariance, i * width, (i + 1) * width);
            }
            double[][][] pairs = new double[factors.length][][];
            for (int group = 0; group < pairs.length; group++) {
                pairs[group] = ofGroup(rows, group);
            }
            return pairs;
        }

        private double[][] ofGroup(double[][] covariance, int group) {
            int width = arrow.width;
            int block = arrow.block;
            double[] factor = factors[group];
            // B^-1 joint' from L^-1 joint'.
            double[] map = pulled[group].clone();
            for (int i = 0; i < width; i++) {
                Cholesky.backward(factor, block, map, i * block);
            }
            double[][] times = arrow.across(map);
            double[] cross = new double[width * block];
            double[] own = Cholesky.inverse(factor, block);
            for (int k = 0; k < block; k++) {
                double[] of = new double[width];
                RowSums.subtract(of, 0, width, times[k], covariance, 0, width);
                for (int i = 0; i < width; i++) {
                    cross[i * block + k] = of[i];
                }
            }
            for (int i = 0; i < width; i++) {
                for (int k = 0; k < block; k++) {
                    for (int l = 0; l < block; l++) {
                        own[k * block + l] -= map[i * block + k] * cross[i * block + l];
                    }
                }
            }
            return new double[][] {cross, own};
        }

        /** log det of the groups' squares. */
        double logDetGroups() {
            double sum = 0;
            for (double[] factor : factors) {
                sum += Cholesky.logDet(factor, arrow.block);
            }
            return sum;
        }
    }
}
