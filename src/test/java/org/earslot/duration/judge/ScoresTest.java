package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.earslot.minutes.EmpiricalMinutes;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ScoresTest {

    /**
     * Row 1: R package scoringRules, its own test of crps_lnorm(3, .1, .9), 8 digits: 1.13552645. All rows: the closed form
     * evaluated by R in reference/distributions.R, in the order of its line crps.
     */
    @ParameterizedTest
    @CsvSource({"3, 0.1, 0.9, 0", "20, 2.8903717578961645, 0.35, 1", "45, 2.995732273553991, 0.4, 2"})
    void givesThePublishedCrpsOfALogNormal(double y, double meanLog, double sdLog, int at) {
        double expected = Reference.of("distributions").values("crps")[at];
        LogNormalMinutes forecast = new LogNormalMinutes(meanLog, sdLog);

        assertThat(Scores.crps(forecast, y)).isCloseTo(expected, within(1e-10));
        assertThat(Scores.crps(opaque(forecast), y)).isCloseTo(expected, within(1e-8));
        if (at == 0) {
            assertThat(Scores.crps(forecast, y)).isCloseTo(1.13552645, within(5e-9));
        }
    }

    /** A fixed time of m minutes: |y - m|; an even spread over (0, b): closed form y^2/b - y + b/3. */
    @Test
    void integratesJumpsAndStraightLines() {
        assertThat(Scores.crps(new FixedMinutes(20), 26)).isEqualTo(6);
        assertThat(Scores.crps(opaque(new FixedMinutes(20)), 26)).isCloseTo(6, within(1e-7));
        assertThat(Scores.crps(opaque(new FixedMinutes(20)), 11)).isCloseTo(9, within(1e-7));
        double b = 30;
        for (double y : new double[] {0, 4, 15, 29.5, 30, 48}) {
            double inside = Math.min(y, b);
            double expected = inside * inside / b - inside + b / 3 + Math.max(0, y - b);
            assertThat(Scores.crps(new EvenMinutes(b), y)).as("y %s", y).isCloseTo(expected, within(1e-7));
        }
    }

    /** E|T - y| - E|T - T'| / 2 over all pairs (Gneiting and Raftery 2007, equation 21; from memory). */
    @Test
    void scoresObservedTimesAsTheirPairsDo() {
        long seed = 20;
        Random random = new Random(seed);
        for (int round = 0; round < 100; round++) {
            double[] times = random.doubles(1 + random.nextInt(12), 2, 50).toArray();
            double y = random.nextDouble() * 60;
            double distance = 0;
            double pairs = 0;
            for (double one : times) {
                distance += Math.abs(one - y) / times.length;
                for (double other : times) {
                    pairs += Math.abs(one - other) / times.length / times.length;
                }
            }
            assertThat(Scores.crps(EmpiricalMinutes.of(times), y))
                    .as("seed %d round %d", seed, round)
                    .isCloseTo(distance - pairs / 2, within(1e-10));
        }
    }

    /** CRPS is twice the integral of the quantile scores over all probabilities; both are in minutes. */
    @Test
    void tiesCrpsToQuantileScoresAndScalesWithTheUnit() {
        long seed = 77;
        Random random = new Random(seed);
        int steps = 20_000;
        for (int round = 0; round < 5; round++) {
            LogNormalMinutes forecast = new LogNormalMinutes(2 + random.nextDouble(), 0.2 + 0.5 * random.nextDouble());
            double y = 5 + 40 * random.nextDouble();
            double sum = 0;
            for (int step = 0; step < steps; step++) {
                double probability = (step + 0.5) / steps;
                sum += 2 * Scores.pinball(forecast.quantile(probability), probability, y) / steps;
            }
            double crps = Scores.crps(forecast, y);
            assertThat(crps).as("seed %d", seed).isCloseTo(sum, within(1e-3 * crps + 1e-3));
            LogNormalMinutes seconds = new LogNormalMinutes(forecast.meanLog() + Math.log(60), forecast.sdLog());
            assertThat(Scores.crps(seconds, 60 * y)).as("seed %d", seed).isCloseTo(60 * crps, within(1e-9 * crps * 60));
        }
    }

    @Test
    void chargesAMinuteOverByPAndAMinuteUnderByTheRest() {
        assertThat(Scores.pinball(25, 0.8, 30)).isCloseTo(4, within(1e-12));
        assertThat(Scores.pinball(25, 0.8, 20)).isCloseTo(1, within(1e-12));
        assertThat(Scores.pinball(25, 0.8, 25)).isZero();
    }

    @Test
    void isLeastInTheMeanForTheTruth() {
        LogNormalMinutes truth = new LogNormalMinutes(Math.log(18), 0.4);
        LogNormalMinutes[] wrong = {
            new LogNormalMinutes(Math.log(16), 0.4),
            new LogNormalMinutes(Math.log(20), 0.4),
            new LogNormalMinutes(Math.log(18), 0.3),
            new LogNormalMinutes(Math.log(18), 0.55)
        };
        double[] excess = new double[2 * wrong.length];
        int draws = 20_000;
        for (int draw = 0; draw < draws; draw++) {
            double y = truth.quantile((draw + 0.5) / draws);
            for (int i = 0; i < wrong.length; i++) {
                excess[2 * i] += Scores.crps(wrong[i], y) - Scores.crps(truth, y);
                excess[2 * i + 1] +=
                        Scores.pinball(wrong[i].quantile(0.8), 0.8, y) - Scores.pinball(truth.quantile(0.8), 0.8, y);
            }
        }
        for (double sum : excess) {
            assertThat(sum).isPositive();
        }
    }

    @Test
    void takesTheMiddleOfAWholeMinute() {
        LogNormalMinutes forecast = new LogNormalMinutes(Math.log(18), 0.4);

        assertThat(Scores.pit(forecast, 17, 1)).isEqualTo((forecast.cdf(16.5) + forecast.cdf(17.5)) / 2);
        assertThat(Scores.pit(forecast, 17, 0)).isCloseTo(forecast.cdf(17), within(1e-12));
        assertThat(Scores.pit(EmpiricalMinutes.of(new double[] {10, 17}), 17, 0))
                .isEqualTo(0.75);
    }

    @Test
    void refusesWhatIsNoNumber() {
        LogNormalMinutes forecast = new LogNormalMinutes(3, 0.3);

        assertThatThrownBy(() -> Scores.crps(forecast, Double.NaN)).hasMessageContaining("NaN");
        assertThatThrownBy(() -> Scores.crps(forecast, -1)).hasMessageContaining("-1");
        assertThatThrownBy(() -> Scores.pinball(20, 1, 20)).hasMessageContaining("between 0 and 1");
        assertThatThrownBy(() -> Scores.pinball(Double.NaN, 0.8, 20)).hasMessageContaining("quantile is NaN");
        assertThatThrownBy(() -> Scores.pit(forecast, 20, Double.NaN)).hasMessageContaining("step is NaN");
    }

    /** The same distribution, hidden from the closed forms. */
    private static MinutesDistribution opaque(MinutesDistribution known) {
        return new MinutesDistribution() {
            @Override
            public double mean() {
                return known.mean();
            }

            @Override
            public double standardDeviation() {
                return known.standardDeviation();
            }

            @Override
            public double cdf(double minutes) {
                return known.cdf(minutes);
            }

            @Override
            public double quantile(double probability) {
                return known.quantile(probability);
            }
        };
    }

    /** Evenly spread from 0 to {@code most} minutes. */
    private record EvenMinutes(double most) implements MinutesDistribution {
        @Override
        public double mean() {
            return most / 2;
        }

        @Override
        public double standardDeviation() {
            return most / Math.sqrt(12);
        }

        @Override
        public double cdf(double minutes) {
            return Math.min(1, Math.max(0, minutes / most));
        }

        @Override
        public double quantile(double probability) {
            return probability * most;
        }
    }
}
