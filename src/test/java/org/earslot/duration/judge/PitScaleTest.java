package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class PitScaleTest {

    /**
     * Survival of the aml maintained group, summary(survfit(Surv(time, status) ~ 1, aml, subset = x == "Maintained")):
     * times 9 13+ 13 18 23 28+ 31 34 45+ 48 161+, here divided by 200; reference/survival-curves.R.
     */
    @Test
    void givesTheSurvivalOfAPublishedTable() {
        double[] times = {9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161};
        boolean[] cut = {false, true, false, false, false, true, false, false, true, false, true};
        List<PitScale.Point> points = new ArrayList<>();
        for (int i = 0; i < times.length; i++) {
            points.add(new PitScale.Point(times[i] / 200, cut[i]));
        }
        PitScale scale = PitScale.of(points);

        double[] events = {9, 13, 18, 23, 31, 34, 48};
        double[] survival = Reference.of("survival-curves").values("aml.survival");
        for (int i = 0; i < events.length; i++) {
            assertThat(1 - scale.upTo(events[i] / 200)).isCloseTo(survival[i], within(5e-11));
        }
        // What is left is spread evenly from the last visit, stopped early at 161, to the end of the scale.
        assertThat(scale.upTo(161 / 200.0)).isCloseTo(1 - survival[6], within(5e-11));
        assertThat(scale.upTo(0.9025)).isCloseTo(1 - survival[6] / 2, within(5e-11));
        assertThat(scale.upTo(1)).isEqualTo(1);
    }

    @Test
    void isThePlainShareWhereNothingWasStoppedEarly() {
        List<PitScale.Point> points = new ArrayList<>();
        for (double u : new double[] {0.1, 0.2, 0.2, 0.7}) {
            points.add(new PitScale.Point(u, false));
        }
        PitScale scale = PitScale.of(points);

        assertThat(scale.upTo(0.05)).isZero();
        assertThat(scale.upTo(0.2)).isCloseTo(0.75, within(1e-12));
        assertThat(scale.upTo(0.7)).isCloseTo(1, within(1e-12));
    }

    @Test
    void isEvenIfTheForecastsAreRightHoweverManyWereStoppedEarly() {
        long seed = 31;
        Random random = new Random(seed);
        for (double hazard : new double[] {0.1, 0.5, 1.5}) {
            List<PitScale.Point> points = new ArrayList<>();
            for (int i = 0; i < 20_000; i++) {
                double u = random.nextDouble();
                double stop = -Math.log(random.nextDouble()) / hazard;
                points.add(new PitScale.Point(Math.min(u, stop), stop < u));
            }
            PitScale scale = PitScale.of(points);
            for (double level = 0.1; level < 1; level += 0.1) {
                assertThat(scale.upTo(level))
                        .as("seed %d hazard %s", seed, hazard)
                        .isCloseTo(level, within(0.02));
            }
        }
    }

    @Test
    void placesTheEndOfACutVisitBeyondItsStop() {
        PitScale scale = PitScale.of(List.of(
                new PitScale.Point(0.2, false),
                new PitScale.Point(0.5, true),
                new PitScale.Point(0.6, false),
                new PitScale.Point(0.9, false)));

        assertThat(scale.beyond(0.5, 4)).containsExactly(0.6, 0.6, 0.9, 0.9);
    }

    @Test
    void answersWhereEveryVisitWasStoppedEarly() {
        PitScale scale = PitScale.of(List.of(new PitScale.Point(0.3, true), new PitScale.Point(0.5, true)));

        assertThat(scale.upTo(0.5)).isZero();
        assertThat(scale.upTo(0.75)).isCloseTo(0.5, within(1e-12));
        assertThat(scale.beyond(0.5, 2)).containsExactly(0.625, 0.875);
    }
}
