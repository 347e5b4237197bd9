package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/**
 * Certified values and data: NIST Statistical Reference Datasets, linear least squares (public domain),
 * https://www.itl.nist.gov/div898/strd/lls/lls.shtml.
 */
class LeastSquaresTest {

    /** Agreement asked for: nine certified digits or better. */
    private static final double DIGITS = 1e-10;

    /** On powers up to the fifth of whole numbers up to 20, whose condition takes the other digits of a double. */
    private static final double DIGITS_OF_WAMPLER5 = 1e-6;

    private static final double[][] NORRIS = {
        {0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5},
        {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
        {0.1, 0.6}, {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
        {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
        {0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
        {10.2, 11.1}, {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}
    };

    private static final double[][] LONGLEY = {
        {60323, 83.0, 234289, 2356, 1590, 107608, 1947},
        {61122, 88.5, 259426, 2325, 1456, 108632, 1948},
        {60171, 88.2, 258054, 3682, 1616, 109773, 1949},
        {61187, 89.5, 284599, 3351, 1650, 110929, 1950},
        {63221, 96.2, 328975, 2099, 3099, 112075, 1951},
        {63639, 98.1, 346999, 1932, 3594, 113270, 1952},
        {64989, 99.0, 365385, 1870, 3547, 115094, 1953},
        {63761, 100.0, 363112, 3578, 3350, 116219, 1954},
        {66019, 101.2, 397469, 2904, 3048, 117388, 1955},
        {67857, 104.6, 419180, 2822, 2857, 118734, 1956},
        {68169, 108.4, 442769, 2936, 2798, 120445, 1957},
        {66513, 110.8, 444546, 4681, 2637, 121950, 1958},
        {68655, 112.6, 482704, 3813, 2552, 123366, 1959},
        {69564, 114.2, 502601, 3931, 2514, 125368, 1960},
        {69331, 115.7, 518173, 4806, 2572, 127852, 1961},
        {70551, 116.9, 554894, 4007, 2827, 130081, 1962}
    };

    private static final double[] WAMPLER5 = {
        7590001, -20479994, 20480063, -20479636, 25231365, -20476094, 20489331, -20460392, 18417449, -20413570,
        20591111, -20302844, 18651453, -20077766, 21059195, -19666384, 26348481, -18971402, 22480719, -17866340,
        10958421
    };

    @Test
    void agreesWithNorris() {
        double[][] x = new double[NORRIS.length][];
        double[] y = new double[NORRIS.length];
        for (int i = 0; i < x.length; i++) {
            // The dataset lists y before x.
            y[i] = NORRIS[i][0];
            x[i] = new double[] {1, NORRIS[i][1]};
        }
        check(x, y, new double[] {-0.262323073774029, 1.00211681802045}, 0.884796396144373, DIGITS);
    }

    @Test
    void agreesWithLongley() {
        double[][] x = new double[LONGLEY.length][];
        double[] y = new double[LONGLEY.length];
        for (int i = 0; i < x.length; i++) {
            y[i] = LONGLEY[i][0];
            x[i] = LONGLEY[i].clone();
            x[i][0] = 1;
        }
        check(
                x,
                y,
                new double[] {
                    -3482258.63459582,
                    15.0618722713733,
                    -0.0358191792925910,
                    -2.02022980381683,
                    -1.03322686717359,
                    -0.0511041056535807,
                    1829.15146461355
                },
                304.854073561965,
                DIGITS);
    }

    @Test
    void agreesWithWampler5() {
        double[][] x = new double[WAMPLER5.length][6];
        for (int i = 0; i < x.length; i++) {
            for (int power = 0; power < 6; power++) {
                x[i][power] = Math.pow(i, power);
            }
        }
        check(x, WAMPLER5, new double[] {1, 1, 1, 1, 1, 1}, 23601450.2379268, DIGITS_OF_WAMPLER5);
    }

    @Test
    void agreesWithTheRefinedSolutionOnATableLikeAClinics() {
        SplittableRandom random = new SplittableRandom(6);
        int columns = 60;
        LeastSquares plain = new LeastSquares(columns);
        RefinedLeastSquares refined = new RefinedLeastSquares(columns);
        for (int i = 0; i < 3000; i++) {
            double[] row = new double[columns];
            row[0] = 1;
            for (int level = 0; level < 8; level++) {
                row[1 + random.nextInt(columns - 2)] = 1;
            }
            row[columns - 1] = 40 + random.nextInt(50);
            double y = 2.5 + 0.3 * random.nextGaussian() + 0.1 * row[7] - 0.02 * row[columns - 1];
            plain.add(row, y);
            refined.add(row, y);
        }
        RefinedLeastSquares.Solution exact = refined.solve();
        LeastSquares.Solution solution = plain.solve();
        for (int j = 0; j < columns; j++) {
            assertThat(solution.coefficients()[j]).isCloseTo(exact.coefficients()[j], within(1e-12));
        }
        assertThat(solution.residualSquares()).isCloseTo(exact.residualSquares(), within(1e-10));
    }

    @Test
    void givesNothingToAColumnThatTheRowsDoNotKnow() {
        LeastSquares rows = new LeastSquares(3);
        for (int i = 0; i < 5; i++) {
            rows.add(new double[] {1, 0, 1}, 4);
        }
        LeastSquares.Solution solution = rows.solve();
        assertThat(solution.coefficients()[0]).isCloseTo(4, within(1e-12));
        assertThat(solution.coefficients()[1]).isZero();
        assertThat(solution.coefficients()[2]).isZero();
        assertThat(solution.leverage(new double[] {1, 1, 0})).isCloseTo(0.2, within(1e-12));
    }

    private static void check(double[][] x, double[] y, double[] certified, double certifiedResidualSd, double digits) {
        LeastSquares rows = new LeastSquares(certified.length);
        RefinedLeastSquares refined = new RefinedLeastSquares(certified.length);
        for (int i = 0; i < x.length; i++) {
            rows.add(x[i], y[i]);
            refined.add(x[i], y[i]);
        }
        LeastSquares.Solution solution = rows.solve();
        check(solution.coefficients(), solution.residualSquares(), certified, certifiedResidualSd, x.length, digits);
        RefinedLeastSquares.Solution exact = refined.solve();
        check(exact.coefficients(), exact.residualSquares(), certified, certifiedResidualSd, x.length, DIGITS);
    }

    private static void check(
            double[] coefficients,
            double residualSquares,
            double[] certified,
            double certifiedResidualSd,
            int rows,
            double digits) {
        double residualSd = Math.sqrt(residualSquares / (rows - certified.length));
        for (int j = 0; j < certified.length; j++) {
            assertThat(Math.abs(coefficients[j] / certified[j] - 1))
                    .as("coefficient %d: %s", j, coefficients[j])
                    .isLessThan(digits);
        }
        assertThat(Math.abs(residualSd / certifiedResidualSd - 1)).isLessThan(digits);
    }
}
