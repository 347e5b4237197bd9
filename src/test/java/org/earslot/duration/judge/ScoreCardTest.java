package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

class ScoreCardTest {

    private static final long SEED = 97;
    private static final LogNormalMinutes TRUTH = new LogNormalMinutes(Math.log(17), 0.4);

    @Test
    void findsRightForecastsRightThoughVisitsWereStoppedEarly() {
        ScoreCard whole = ScoreCard.of(visits(TRUTH, 0, false), 0, 0.8);
        ScoreCard cut = ScoreCard.of(visits(TRUTH, 1 / 60.0, false), 0, 0.8);

        assertThat(cut.stoppedEarly()).isBetween(4000, 8000);
        for (int i = 0; i < ScoreCard.LEVELS.size(); i++) {
            assertThat(cut.coverage().get(i)).as("seed %d", SEED).isCloseTo(ScoreCard.LEVELS.get(i), within(0.012));
        }
        assertThat(cut.slotCoverage()).isEqualTo(cut.coverage().get(1));
        assertThat(cut.histogram()).allSatisfy(bar -> assertThat(bar).isCloseTo(0.1, within(0.012)));
        // The mean score is that of the visits run to their end, within noise (two standard errors are about 0.03).
        assertThat(cut.pinball()).isCloseTo(whole.pinball(), within(0.04));
        assertThat(cut.crps()).isCloseTo(whole.crps(), within(0.06));
    }

    @Test
    void isNotMisledIntoShortForecastsByCutVisits() {
        LogNormalMinutes tooShort = new LogNormalMinutes(Math.log(15.3), 0.4);

        ScoreCard right = ScoreCard.of(visits(TRUTH, 1 / 30.0, false), 0, 0.8);
        ScoreCard wrong = ScoreCard.of(visits(tooShort, 1 / 30.0, false), 0, 0.8);

        assertThat(wrong.pinball()).isGreaterThan(right.pinball());
        assertThat(wrong.crps()).isGreaterThan(right.crps());
        assertThat(wrong.slotCoverage()).isLessThan(0.77);
    }

    @Test
    void seesNoFaultInWholeMinutes() {
        ScoreCard card = ScoreCard.of(visits(TRUTH, 1 / 60.0, true), 1, 0.8);

        for (int i = 0; i < ScoreCard.LEVELS.size(); i++) {
            assertThat(card.coverage().get(i)).as("seed %d", SEED).isCloseTo(ScoreCard.LEVELS.get(i), within(0.015));
        }
    }

    @Test
    void sumsItsHistogramToOneAndAnswersForASingleVisit() {
        ScoreCard card = ScoreCard.of(List.of(new Judged(TRUTH, 22, true)), 1, 0.8);

        assertThat(card.histogram().stream().mapToDouble(bar -> bar).sum()).isCloseTo(1, within(1e-12));
        assertThat(card.pinball()).isPositive();
        assertThatThrownBy(() -> ScoreCard.of(List.of(), 1, 0.8)).hasMessageContaining("at least one");
    }

    /** 20,000 visits of the true distribution, some stopped early at a constant hazard per minute. */
    private static List<Judged> visits(LogNormalMinutes forecast, double hazard, boolean wholeMinutes) {
        Random random = new Random(SEED);
        List<Judged> visits = new ArrayList<>();
        for (int i = 0; i < 20_000; i++) {
            double time = TRUTH.quantile(Math.max(1e-12, random.nextDouble()));
            double stop = hazard == 0 ? Double.POSITIVE_INFINITY : -Math.log(1 - random.nextDouble()) / hazard;
            double seen = Math.min(time, stop);
            double called = random.nextDouble();
            double kept = wholeMinutes ? Math.max(1, Math.floor(called + seen) - Math.floor(called)) : seen;
            visits.add(new Judged(forecast, kept, stop < time));
        }
        return visits;
    }
}
