package org.earslot.duration;

import java.util.stream.IntStream;

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

    /** The solution, and what the inverse needs. */
    Solved solve() {
        double[][] factors = new double[groups][];
        double[][] pulled = new double[groups][];
        double[] schur = fixed.clone();
        double[] rest = right.clone();
        for (int g = 0; g < groups; g++) {
            double[] factor = own[g].clone();
            cholesky(factor, block);
            factors[g] = factor;
            // Rows of joint, solved: L^-1 joint'.
            double[] half = joint[g].clone();
            double[] halfRight = ownRight[g].clone();
            forward(factor, block, halfRight, 0);
            for (int i = 0; i < width; i++) {
                forward(factor, block, half, i * block);
            }
            pulled[g] = half;
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
            for (int g = 0; g < groups; g++) {
                double[] half = pulled[g];
                for (int j = 0; j <= i; j++) {
                    double sum = 0;
                    for (int k = 0; k < block; k++) {
                        sum += half[i * block + k] * half[j * block + k];
                    }
                    schur[i * width + j] -= sum;
                }
            }
        });
        boolean sound = cholesky(schur, width);
        double[] step = rest.clone();
        forward(schur, width, step, 0);
        backward(schur, width, step, 0);
        double[][] ownStep = new double[groups][];
        for (int g = 0; g < groups; g++) {
            double[] mine = ownRight[g].clone();
            for (int i = 0; i < width; i++) {
                for (int k = 0; k < block; k++) {
                    mine[k] -= joint[g][i * block + k] * step[i];
                }
            }
            forward(factors[g], block, mine, 0);
            backward(factors[g], block, mine, 0);
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
            return inverse(schur, arrow.width);
        }

        /**
         * The inverse between the fixed columns and a group's: width x block; and the group's own: block x block.
         *
         * @param covariance as {@link #covariance} gives it
         */
        double[][] ofGroup(double[] covariance, int group) {
            int width = arrow.width;
            int block = arrow.block;
            double[] factor = factors[group];
            // B^-1 joint' from L^-1 joint'.
            double[] map = pulled[group].clone();
            for (int i = 0; i < width; i++) {
                backward(factor, block, map, i * block);
            }
            double[] cross = new double[width * block];
            for (int i = 0; i < width; i++) {
                for (int j = 0; j < width; j++) {
                    double c = covariance[i * width + j];
                    for (int k = 0; k < block; k++) {
                        cross[i * block + k] -= c * map[j * block + k];
                    }
                }
            }
            double[] own = inverse(factor, block);
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
                sum += logDet(factor, arrow.block);
            }
            return sum;
        }

        /** log det of the eliminated fixed square. */
        double logDetFixed() {
            return logDet(schur, arrow.width);
        }
    }

    static double logDet(double[] factor, int n) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
            sum += 2 * Math.log(factor[i * n + i]);
        }
        return sum;
    }

    /** In place, lower triangle. A pivot that is not positive is put so high that its column stays where it is. */
    static boolean cholesky(double[] a, int n) {
        boolean sound = true;
        double[] scale = new double[n];
        for (int i = 0; i < n; i++) {
            scale[i] = Math.abs(a[i * n + i]);
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = a[i * n + j];
                int ri = i * n;
                int rj = j * n;
                for (int k = 0; k < j; k++) {
                    sum -= a[ri + k] * a[rj + k];
                }
                if (i == j) {
                    if (!(sum > 1e-14 * scale[i]) || !(sum > 1e-280)) {
                        sound = false;
                        sum = 1e100;
                    }
                    a[ri + i] = Math.sqrt(sum);
                } else {
                    a[ri + j] = sum / a[rj + j];
                }
            }
        }
        return sound;
    }

    static void forward(double[] l, int n, double[] b, int at) {
        for (int i = 0; i < n; i++) {
            double sum = b[at + i];
            for (int k = 0; k < i; k++) {
                sum -= l[i * n + k] * b[at + k];
            }
            b[at + i] = sum / l[i * n + i];
        }
    }

    static void backward(double[] l, int n, double[] b, int at) {
        for (int i = n - 1; i >= 0; i--) {
            double sum = b[at + i] / l[i * n + i];
            b[at + i] = sum;
            for (int k = 0; k < i; k++) {
                b[at + k] -= l[i * n + k] * sum;
            }
        }
    }

    /** The full inverse from a Cholesky factor. */
    static double[] inverse(double[] l, int n) {
        double[] half = new double[n * n];
        for (int j = 0; j < n; j++) {
            half[j * n + j] = 1 / l[j * n + j];
            for (int i = j + 1; i < n; i++) {
                double sum = 0;
                for (int k = j; k < i; k++) {
                    sum -= l[i * n + k] * half[j * n + k];
                }
                half[j * n + i] = sum / l[i * n + i];
            }
        }
        double[] inverse = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = 0;
                for (int k = i; k < n; k++) {
                    sum += half[i * n + k] * half[j * n + k];
                }
                inverse[i * n + j] = sum;
                inverse[j * n + i] = sum;
            }
        }
        return inverse;
    }
}
